// What the maker calls each account: its name, its code and its tax code. They are kept together in the edition, and come
// along to the next one and by way of the shelf: the name under the account's key, the others under `key.code` and `key.tax`.
import { ACCOUNT_KEYS } from "../../accounts/as-of";
import { type AccountKey, USUAL_ACCOUNT_NAMES } from "../../accounts/journal";
import { editMeta } from "../../core/document/edits";
import type { Workbook } from "../../core/document/workbook";
import { type Problem, problem } from "../../core/problem";
import type { AccountTerms } from "../../csv/pack-content";
import type { Session } from "../edition/session";

/** All accounts as the maker has them; the usual name stands where none was given, and nothing where it was taken away. */
export function accountTermsOf(book: Workbook): Readonly<Record<AccountKey, AccountTerms>> {
  const own = book.meta.accounts ?? {};
  const terms = ACCOUNT_KEYS.map((key): [AccountKey, AccountTerms] => [
    key,
    {
      name: (own[key] ?? USUAL_ACCOUNT_NAMES[key]).trim(),
      code: own[`${key}.code`] ?? "",
      tax: own[`${key}.tax`] ?? "",
    },
  ]);
  return Object.fromEntries(terms) as Record<AccountKey, AccountTerms>;
}

/** What keeps books from being given out under these names, of the accounts that they post to. */
export function accountProblems(
  terms: Readonly<Record<AccountKey, AccountTerms>>,
  used: ReadonlySet<AccountKey>,
): readonly Problem[] {
  const hasCodes = ACCOUNT_KEYS.some((key) => terms[key].code !== "");
  const say = (key: AccountKey, found: string, allowed: string) =>
    problem({
      code: "account.terms",
      where: `Account “${USUAL_ACCOUNT_NAMES[key]}”`,
      ...{ found, allowed },
      fix: "It is set under “Accounts” on the accountant's page.",
    });
  return ACCOUNT_KEYS.flatMap((key): Problem[] => {
    if (!used.has(key)) return [];
    const { name, code } = terms[key];
    if (name === "") return [say(key, "", "a name")];
    if (hasCodes && code === "") return [say(key, "no code", "a code, as other accounts have one")];
    const other = ACCOUNT_KEYS.find((one) => one !== key && code !== "" && terms[one].code === code && used.has(one));
    return other && terms[other].name !== name
      ? [say(key, `code ${code}, which is also that of “${terms[other].name}”`, "one name for a code")]
      : [];
  });
}

/** What of an account is given. */
export type AccountPart = keyof AccountTerms;

const SUFFIX: Readonly<Record<AccountPart, string>> = { name: "", code: ".code", tax: ".tax" };
const MOST: Readonly<Record<AccountPart, number>> = { name: 120, code: 20, tax: 20 };
const TITLES: Readonly<Record<AccountPart, string>> = { name: "name", code: "code", tax: "tax code" };

/** Gives an account its name, code or tax code; a blank takes it away. */
export function setAccount(session: Session, key: AccountKey, part: AccountPart, typed: string): void {
  const book = session.book.value;
  const is = typed.trim().slice(0, MOST[part]);
  if (accountTermsOf(book)[key][part] === is) return;
  const at = `${key}${SUFFIX[part]}`;
  const { [at]: _, ...others } = book.meta.accounts ?? {};
  const isUsual = part === "name" ? is === USUAL_ACCOUNT_NAMES[key] : is === "";
  const accounts = isUsual ? others : { ...others, [at]: is };
  session.commit(editMeta(book, { accounts }, `Account ${USUAL_ACCOUNT_NAMES[key]}: ${TITLES[part]} ${is || "blank"}`));
}
