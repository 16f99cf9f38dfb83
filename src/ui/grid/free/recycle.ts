// Elements in an order, used again as the order moves on. The element that has the focus is never moved: that would lose it.

/** Puts the children in this order, moving as few as it can; what is not wanted goes. */
export function putInOrder(parent: Element, wanted: readonly Element[]): void {
  const focused = document.activeElement;
  const isWanted = new Set(wanted);
  // First, so that the others are in order as they stand: an element moved between a press and its click loses both.
  for (const child of [...parent.children]) if (!isWanted.has(child)) child.remove();
  let cursor = parent.firstElementChild;
  for (const element of wanted) {
    if (element === cursor) {
      cursor = cursor.nextElementSibling;
    } else if (element.parentElement === parent && element.contains(focused)) {
      while (cursor !== null && cursor !== element) {
        const next = cursor.nextElementSibling;
        parent.append(cursor);
        cursor = next;
      }
      cursor = element.nextElementSibling;
    } else {
      parent.insertBefore(element, cursor);
    }
  }
}

/** Something drawn for an index. */
interface Drawn {
  index: number;
}

/** Gives every wanted index something drawn: what stands for it, else what is free, else something new. */
export function redistribute<T extends Drawn>(
  drawn: readonly T[],
  wanted: readonly number[],
  make: () => T,
  move: (one: T, index: number) => void,
): T[] {
  const standing = new Map(drawn.map((one) => [one.index, one]));
  const isWanted = new Set(wanted);
  // Taken from the first on, so that after a leap all stand in order already and none has to be moved.
  const free = drawn.filter((one) => !isWanted.has(one.index)).values();
  return wanted.map((index) => {
    const found = standing.get(index);
    if (found !== undefined) return found;
    const one = free.next().value ?? make();
    one.index = index;
    move(one, index);
    return one;
  });
}

/** Whether two lists of indexes are alike. */
export function isSameIndexes(one: readonly number[], other: readonly number[]): boolean {
  return one.length === other.length && one.every((index, at) => index === other[at]);
}
