import type { Problem } from "../problem.ts";
import { type PageState, stateProblems } from "../state.ts";
import type { Refusal } from "./lines.ts";
import { type DraftRecord, damaged, draftFrom } from "./records.ts";
import type { Tables } from "./tables.ts";

/** Drafts of one page in different tabs; beyond these the oldest goes. */
const MOST_DRAFTS = 20;

export type DraftSaved = { readonly kind: "saved" } | Refusal;
export type DraftRead =
  | { readonly kind: "read"; readonly state: PageState; readonly changed_ms: number }
  | { readonly kind: "none" }
  | Refusal;

export async function saveDraft(tables: Tables, draft: DraftRecord): Promise<DraftSaved> {
  const unfit: Problem | undefined = stateProblems(draft.state)[0];
  if (unfit !== undefined) return { kind: "problem", problem: unfit };
  const isNew = (await tables.get("drafts", [draft.page, draft.tab])) === undefined;
  if (isNew) {
    const others = (await soundDrafts(tables, draft.page)).drafts;
    for (const { page, tab } of others.slice(MOST_DRAFTS - 1)) await tables.remove("drafts", [page, tab]);
  }
  await tables.put("drafts", draft);
  return { kind: "saved" };
}

/** The tab's own draft of a page, or else the newest of another tab's. */
export async function readDraft(tables: Tables, page: string, tab: string): Promise<DraftRead> {
  const { drafts, spoilt } = await soundDrafts(tables, page);
  const draft = drafts.find((one) => one.tab === tab) ?? drafts[0];
  if (draft !== undefined) return { kind: "read", state: draft.state, changed_ms: draft.changed_ms };
  return spoilt ? { kind: "problem", problem: damaged(`draft of ${page}`) } : { kind: "none" };
}

async function soundDrafts(tables: Tables, page: string): Promise<{ drafts: DraftRecord[]; spoilt: boolean }> {
  const records = (await tables.all("drafts")).filter((record) => (record as { page?: unknown }).page === page);
  const drafts = records.map(draftFrom).filter((draft) => draft !== null);
  drafts.sort((a, b) => b.changed_ms - a.changed_ms);
  return { drafts, spoilt: drafts.length < records.length };
}
