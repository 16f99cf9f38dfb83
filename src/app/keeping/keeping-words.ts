// Why an edition can only be looked at for now, and what the browser did to what it kept.

export const FOLLOWING = {
  why: "another tab writes this edition",
  fix: "Press “Write here” to go on in this tab.",
};
export const OUTRUN = {
  why: "a newer version of Saggar has written this edition",
  fix: "Reload this page to go on in it.",
};
export const CHANGING_HANDS = {
  why: "the edition is being handed from one tab to another",
  fix: "Try again in a moment.",
};
export const CLEARED =
  "This browser cleared what it had kept for this page. The edition was written again as it stands here; its earlier copies and other editions are gone. Save it as a file.";
