// Today's editions offer their kilns and materials to the shelf once.
import { expect, test } from "vitest";
import { offerShelf } from "../../../src/app/shelf/offer";
import { putOnShelf } from "../../../src/app/shelf/shelf";
import { compareShelf, emptyShelf } from "../../../src/core/document/shelf";
import { smallEdition } from "../../storage/small-edition";
import { Device } from "../../tools/open-studio";
import { turns } from "../../tools/tabs";

const offers = (texts: readonly string[]) => texts.filter((text) => text.includes("studio’s shelf")).length;

test("the shelf is offered once in a browser, not over an invented edition and not where there is one", async () => {
  const device = new Device();
  const tab = device.openTab();
  await tab.studio.start(async () => {
    const book = smallEdition(2);
    return { ...book, meta: { ...book.meta, invented: true } };
  });
  await offerShelf(tab.studio);
  expect(offers(tab.messages)).toBe(0);
  const book = smallEdition(2);
  await tab.studio.openNew(book);
  await offerShelf(tab.studio);
  await offerShelf(tab.studio);
  expect(offers(tab.messages)).toBe(1);
  const here = tab.studio.session.value ?? expect.unreachable();
  const notice = here.notices.value.find(({ leads }) => leads);
  expect(notice?.leads?.title).toBe("To The shelf");
  notice?.leads?.go();
  expect(here.page.value).toBe("shelf");
  expect(tab.book).toEqual(book);

  const other = new Device().openTab();
  await other.studio.start(async () => smallEdition(2));
  const session = other.studio.session.value ?? expect.unreachable();
  const { onlyHere } = compareShelf(session.book.value, emptyShelf(session.book.value, "2026-11-29"));
  await putOnShelf(
    other.studio,
    session,
    onlyHere.map((item) => ({ item })),
  );
  await turns();
  await offerShelf(other.studio);
  expect(offers(other.messages.filter((text) => text.includes("one press")))).toBe(0);
});
