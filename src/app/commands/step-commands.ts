// What is done to the steps of the route. Loaded when it is first asked for: it is not part of what loads first.
import { addStep, moveStep, type NewStep, removeStep, repeatStep } from "../../core/steps/step-edits";
import type { Session } from "../edition/session";
import { commit } from "./commands";

/** Moves a step one place earlier or later in the route. */
export function moveRouteStep(session: Session, step: string, by: -1 | 1): boolean {
  return commit(session, moveStep(session.book.value, step, by));
}

/** Adds a step to the route and its columns to the pieces. */
export function addRouteStep(session: Session, step: NewStep, after: string | undefined): boolean {
  return commit(session, addStep(session.book.value, step, after));
}

/** Repeats a step, as for a refire or one more coat. */
export function repeatRouteStep(session: Session, step: string): boolean {
  return commit(session, repeatStep(session.book.value, step));
}

/** Removes a step with what was entered for it. */
export function removeRouteStep(session: Session, step: string): boolean {
  return commit(session, removeStep(session.book.value, step));
}
