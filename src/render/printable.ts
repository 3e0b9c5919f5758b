/**
 * Signs that steer a terminal or the eye instead of being read: control characters, among them those of U+0080 to U+009F, which some
 * terminals obey in UTF-8 as well; line and paragraph separators; marks that turn the direction of writing (Unicode TR 36, 2.5 and
 * "Bidirectional Text Spoofing"); signs without width between letters; tags. The joiners U+200C and U+200D stay: words of several
 * languages, and emoji, are written with them.
 */
const STEERS =
  /[\p{Cc}\u061c\u200b\u200e\u200f\u2028-\u202e\u2060-\u2064\u2066-\u2069\ufeff\ufff9-\ufffb\u{e0000}-\u{e007f}]/gu;

/** Text from a ledger, a file name or what was typed, as it may go to a terminal or a page: such a sign becomes a replacement sign. */
export function printable(text: string): string {
  return text.replaceAll(STEERS, '\ufffd');
}

/** A colour of our own, or a sign that steers. */
const PAINTED = new RegExp(`\\x1b\\[\\d*(?:;\\d+)*m|${STEERS.source}`, 'gu');

/** Lines put together for a person: line breaks, tabs and colours stay, all else that steers becomes a replacement sign. */
export function shown(text: string): string {
  return text.replaceAll(PAINTED, (sign) => (/^[\n\t]$|m$/.test(sign) ? sign : '\ufffd'));
}

/** JSON that says the same and holds none of them as such; line breaks and tabs between values stay. */
export function printableJson(json: string): string {
  return json.replaceAll(STEERS, (sign) => (sign === '\n' || sign === '\t' ? sign : escaped(sign)));
}

/** In UTF-16 units, as JSON counts. */
function escaped(sign: string): string {
  return Array.from({ length: sign.length }, (_, at) => {
    return `\\u${sign.charCodeAt(at).toString(16).padStart(4, '0')}`;
  }).join('');
}
