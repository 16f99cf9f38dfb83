// What is to be done, and where it stands in a calendar.

/** Something to be done. Minutes are whole. */
export interface Task {
  readonly id: string;
  /** The step it belongs to, and what it is called. */
  readonly step: string;
  readonly title: string;
  readonly pieces: readonly string[];
  /** Work of one person in working hours; for a firing, its loading and unloading. */
  readonly workMinutes: number;
  /** The kiln it needs from its beginning on, and how long it stays shut after the work, day and night. */
  readonly kiln?: string;
  readonly kilnMinutes: number;
  /** What must be done before, and how long that must rest then, day and night. */
  readonly after: readonly { readonly task: string; readonly restMinutes: number }[];
  /** Minute of the clock before which it must not begin. */
  readonly notBefore?: number;
  /** Whose it is, where the calendar holds several editions. */
  readonly edition?: string;
  /** Other editions that have pieces in it. */
  readonly guests?: readonly string[];
  /** What a firing goes by in every edition with pieces in it. */
  readonly shared?: string;
  /** Tasks of a lower rank are put in first; 0 where nothing is said. */
  readonly rank?: number;
  /** What it is fired by, and how many such pieces a load takes. */
  readonly load?: LoadFacts;
}

/** What tells whether pieces of another edition could go into a load. */
export interface LoadFacts {
  readonly programme: string;
  /** The hottest it gets, °C, where its programme is described. */
  readonly peak?: number;
  readonly room: number;
  /** Pieces in it of whatever edition, and other ware; those of the task where nothing is said. */
  readonly filled?: number;
}

/** Why a task did not begin earlier. */
export type Hold =
  | { readonly kind: "nothing" }
  | { readonly kind: "date" }
  | { readonly kind: "task"; readonly task: string; readonly restMinutes: number }
  | { readonly kind: "kiln"; readonly task: string }
  | { readonly kind: "hands"; readonly task: string };

/** A task in the calendar, in minutes of the clock. */
export interface Slot {
  readonly task: Task;
  readonly start: number;
  readonly workEnd: number;
  readonly end: number;
  /** Which pair of hands does it, from 0; undefined where it takes no work. */
  readonly person: number | undefined;
  /** Which of its kilns of one name, from 0. */
  readonly oven: number;
  readonly hold: Hold;
}
