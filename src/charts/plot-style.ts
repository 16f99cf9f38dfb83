// What all pictures share: ink, letters, and titles that have room.

/** Colours and letters of the page. */
export const PLOT_STYLE = {
  ...{ background: "transparent", color: "var(--ink)" },
  ...{ fontFamily: "var(--font)", fontSize: "12px" },
};

/** A title of at most so many letters. */
export const shortened = (title: string, most: number) =>
  title.length > most ? `${title.slice(0, most - 1)}…` : title;
