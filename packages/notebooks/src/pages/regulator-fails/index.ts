/** What the page "When the regulator fails" is made of. */
export { answerView, detailsView, headroomView, onAnswer, timeView, worthBench } from "./bench.ts";
export { protectorControls, radioControls, wiringControls } from "./controls.ts";
export { faultControls } from "./fault.ts";
export { controlGroup } from "./group.ts";
export { timeViews } from "./kept-view.ts";
export { morePictures } from "./pictures.ts";
export { withoutProtection } from "./protector.ts";
export { storyOf } from "./story.ts";
