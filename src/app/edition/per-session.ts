// State of an open edition that is kept outside its session: no edition sees another's, and it goes when the session goes.
import type { Session } from "./session";

/** Gives each session a value of its own, made when it is first asked for. */
export function perSession<T>(make: (session: Session) => T): (session: Session) => T {
  const made = new WeakMap<Session, { readonly of: T }>();
  return (session) => {
    const held = made.get(session) ?? { of: make(session) };
    made.set(session, held);
    return held.of;
  };
}
