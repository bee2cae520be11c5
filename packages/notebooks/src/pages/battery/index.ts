/** What the page "Battery on the line" is made of. */
export { afterwards } from "./afterwards.ts";
export { breakingTable, enoughWords, facedSentences } from "./breaking.ts";
export { batteryControls, chargerControls, tripControls } from "./controls.ts";
export { clockView, creepPictures, heatPicture, limitControl } from "./creep-view.ts";
export { fallControls, fallScheme, fallStory, fallView, fallViews } from "./fall.ts";
export { comparedFuse, placeSchemes } from "./places.ts";
export { placesView } from "./places-view.ts";
