import type { Problem } from "../../core/problem";

/** Where a backup file stands. */
export interface Backup {
  readonly name: string;
  /** The time of what it holds, ISO 8601. */
  readonly at: string;
  /** “due”: there are edits that it gets in a moment. */
  readonly kind: "up to date" | "due" | "not permitted" | "changed elsewhere" | "failed";
  /** Whether it is behind until the maker does something. */
  readonly waits: boolean;
  readonly problems: readonly Problem[];
}
