import { button, el, freshId } from "../../controls/index.ts";
import { copyText } from "../../show/clipboard.ts";
import { openDialog } from "./dialog.ts";
import { saveAsFile } from "./saving.ts";
import { fileText } from "./words.ts";
import type { Work } from "./work.ts";

/** Puts a link to the line as it stands on the clipboard; where the browser forbids that, shows it to be copied by hand. */
export async function copyLink(work: Work): Promise<void> {
  const { document, kept, line, notices, say } = work;
  const shared = kept.share();
  if (shared.kind !== "address") {
    const { text, title } = line.now;
    notices.put("share", {
      title: "There is no link to this line as it stands.",
      problems: shared.kind === "too-long" ? [shared.problem] : shared.problems,
      actions: [{ label: "Save as file", press: () => saveAsFile(work, title, fileText(text)) }],
    });
    return;
  }
  notices.put("share", null);
  try {
    await copyText(document, shared.address);
    say("Link copied: whoever opens it sees the line as it stands now.");
  } catch {
    await showLink(document, shared.address);
  }
}

async function showLink(document: Document, address: string): Promise<void> {
  const id = freshId("link");
  const input = el(document, "input", { type: "text", id, readonly: true });
  input.value = address;
  await openDialog<true>(document, {
    title: "Link to this line",
    look: "small",
    fill: ({ close }) => [
      el(document, "p", {}, "This browser does not let the page copy. Copy the selected text by hand."),
      el(document, "div", { class: "control control-text" }, el(document, "label", { for: id }, "Address"), input),
      el(document, "div", { class: "dialog-foot" }, button(document, { label: "Done", press: () => close(true) })),
    ],
    shown: () => {
      input.focus();
      input.select();
    },
  });
}
