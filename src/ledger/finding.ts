/** What a check found wrong, with the way to the culprit inside the value; `place.ts` turns it into a `Problem`. */
export interface Finding {
  code: string;
  message: string;
  help?: string;
  /** Keys and list positions from the outermost value inwards; empty for the whole value. */
  path: readonly (string | number)[];
  /** Point at the key instead of its value. */
  atKey?: true;
}
