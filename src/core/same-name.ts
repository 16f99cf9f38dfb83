/** What names have in common that stand for the same thing in two documents, however their letters are cased. */
export const nameKey = (name: string): string => name.trim().toLowerCase();
