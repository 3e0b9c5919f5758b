/**
 * Text that a spreadsheet would take for a formula, made harmless and back.
 *
 * A cell that starts with `=`, `+`, `-`, `@`, a tab, a line break or one of the wide forms of those signs gets an apostrophe
 * before it (OWASP, "CSV Injection"). So does one that already starts with apostrophes before such a sign, so that taking one
 * apostrophe off always gives back what was there.
 */
const FORMULA = /^'*[=+\-@\t\r\n＝＋－＠]/;
const GUARDED = /^'+[=+\-@\t\r\n＝＋－＠]/;

const APOSTROPHE = 0x27;

/** The text as it is written into a cell. */
export function guarded(text: string): string {
  return FORMULA.test(text) ? `'${text}` : text;
}

/** The text as it was before {@link guarded}. */
export function unguarded(cell: string): string {
  return cell.charCodeAt(0) === APOSTROPHE && GUARDED.test(cell) ? cell.slice(1) : cell;
}
