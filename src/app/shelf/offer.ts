// The shelf is offered once to whoever has an edition and no shelf yet; nothing is put on it unasked.
import { SHELF } from "../../core/document/shelf-kind";
import type { Studio } from "../keeping/studio";

/** Tells of the shelf where there is none, once for this browser, and not over an invented edition. */
export async function offerShelf(studio: Studio): Promise<void> {
  const { open, home } = studio;
  if (!open || open.session.book.value.meta.invented || studio.refused.value.length > 0) return;
  const offered = await home.preferences.get("shelfOffered");
  const there = await home.editions.stamp(SHELF);
  if (!offered.ok || offered.value || there.ok) return;
  await home.preferences.set("shelfOffered", true);
  const { session } = open;
  const go = () => {
    session.page.value = "shelf";
  };
  session.notify(
    "done",
    "The kilns, materials and prices of this edition can go on the studio’s shelf, where the next one finds them: one press on The shelf puts them there.",
    [],
    { waits: true, leads: { title: "To The shelf", go } },
  );
}
