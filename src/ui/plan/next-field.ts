/** Gives the keyboard to the next field of the page that is still the template's, otherwise to the next field. */
export function nextField(from: HTMLElement): void {
  const fields = fieldsOf(from.closest(".plan"));
  const after = fields.slice(fields.indexOf(from) + 1);
  (after.find(isExampleField) ?? after[0])?.focus();
}

/** Gives the keyboard to the first field that is still the template's, after the one that has it. False where none is in sight. */
export function toExample(page: Element | null): boolean {
  const fields = fieldsOf(page);
  const here = fields.indexOf(document.activeElement as HTMLElement);
  const found = [...fields.slice(here + 1), ...fields].find(isExampleField);
  found?.focus();
  return found !== undefined;
}

const isExampleField = (field: HTMLElement) => field.closest(".plan-field.example") !== null;

const fieldsOf = (page: Element | null) => [...(page?.querySelectorAll<HTMLElement>("[data-cell]") ?? [])];
