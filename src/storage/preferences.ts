// Small settings of this browser: not part of any edition, and never worth stopping work for.
import type { Result } from "../core/problem";

/** Every setting that is remembered. */
export interface PreferenceValues {
  /** Id of the edition that was open last. */
  readonly lastEdition: string;
  /** The decimal mark the maker types and reads. */
  readonly decimal: "." | ",";
  /** The scale temperatures are shown in. */
  readonly temperature: "C" | "F";
}

export type PreferenceName = keyof PreferenceValues;

export interface PreferenceStore {
  /** A setting; undefined where it was never set, or holds what this version does not know. */
  get<N extends PreferenceName>(name: N): Promise<Result<PreferenceValues[N] | undefined>>;
  /** Sets a setting; undefined forgets it. */
  set<N extends PreferenceName>(name: N, value: PreferenceValues[N] | undefined): Promise<Result<undefined>>;
}

const CHECKS: { readonly [N in PreferenceName]: (stored: unknown) => stored is PreferenceValues[N] } = {
  lastEdition: (stored): stored is string => typeof stored === "string" && stored !== "",
  decimal: (stored): stored is "." | "," => stored === "." || stored === ",",
  temperature: (stored): stored is "C" | "F" => stored === "C" || stored === "F",
};

/** A stored setting if it is one that this version knows. */
export function preferenceOf<N extends PreferenceName>(name: N, stored: unknown): PreferenceValues[N] | undefined {
  return CHECKS[name](stored) ? stored : undefined;
}
