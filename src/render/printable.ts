/**
 * Text from a ledger as it may go to a terminal: control characters, and the marks that turn the direction of writing,
 * become a replacement sign, so that a note or a name cannot steer the terminal.
 */
export function printable(text: string): string {
  return text.replaceAll(/[\p{Cc}\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu, '\ufffd');
}
