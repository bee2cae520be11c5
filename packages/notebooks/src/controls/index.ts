/** Native, labelled controls that hold a value; they know nothing of what the value is for. */
export { type ButtonOptions, button } from "./button.ts";
export { type ChoiceChanges, type ChoiceOption, type ChoiceOptions, choice } from "./choice.ts";
export { type Control, freshId } from "./control.ts";
export { el, setAttributes, setText } from "./el.ts";
export { type FileButtonOptions, fileButton } from "./file-button.ts";
export { type RangeChanges, type RangeOptions, range } from "./range.ts";
export { type TextFieldOptions, textField } from "./text-field.ts";
export { type ToggleOptions, toggle } from "./toggle.ts";
export { unitsKept } from "./units-kept.ts";
