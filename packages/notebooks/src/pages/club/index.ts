/** What the cells of the page “For the club” import. */
export { clubArranged, clubViews } from "./arranged.ts";
export { clubPage } from "./page.ts";
