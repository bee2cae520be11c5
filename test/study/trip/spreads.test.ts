import { expect, test } from "vitest";
import { shippedText, studiedText } from "./lines.ts";

test.each(["29-chosen-parts"])("%s carries tolerances, and the trip is studied as without them", (name) => {
  const text = shippedText(name);
  expect(text).toContain("\ntolerances:");
  const plain = text.slice(0, text.indexOf("\ntolerances:") + 1);
  expect(studiedText(text)).toEqual(studiedText(plain));
});
