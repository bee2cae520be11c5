/** Ready-made schemes of protection by their words, in the order in which a comparison lists them. */
export const SCHEME_WORDS = [
  "nothing",
  "own OVP",
  "clamp",
  "relay",
  "series transistor",
  "SCR without fuse",
  "SCR with fuse",
  "SCR and clamp",
  "SCR kept on",
  "SCR with disconnect",
] as const;

/** The word of a ready-made scheme. */
export type SchemeWord = (typeof SCHEME_WORDS)[number];
