/** A ledger in which every text that people choose is hostile: to a terminal, a page, a spreadsheet, a shell. */

/** Sound as text of a ledger, each of them. The marks `fz` tell what was let through. */
export const HOSTILE = {
  'title of the window, OSC 0': '\u001b]0;fz\u0007',
  'clipboard, OSC 52': '\u001b]52;c;ZnogZno=\u0007',
  'a link, OSC 8': '\u001b]8;;https://fz.invalid\u001b\\fz\u001b]8;;\u001b\\',
  'colour and clearing, CSI': '\u001b[31mfz\u001b[0m\u001b[2J\u001b[1;1H',
  'CSI of the upper half, C1': '\u009b2Jfz\u009d0;fz\u009c',
  'what is asked of the terminal, DA and DSR': '\u001b[c\u001b[6n',
  'backspaces and returns': 'fz\u0008\u0008ok\rfz\u0007\u007f',
  'line breaks of all kinds': 'fz\nfz\u000b\u000c\u0085fz\u2028fz\u2029fz',
  'the direction of writing': '\u202efz\u202c \u2066fz\u2069 \u200f\u061c',
  'signs without width': 'f\u200bz\u2060\ufefff\u{e0041}z',
  'half of a pair': 'fz\ud83d',
  'a script': '<script>fz()</script>',
  'an element with a handler': '<img src=x onerror=fz()>',
  'a drawing with a handler': '<svg/onload=fz()>',
  'an end of what it stands in': '"\'></td></style></title></script></svg><fz>',
  'an end of a comment or of data': '--> ]]> <!-- <fz> -->',
  'a link of Markdown': '[fz](javascript:fz) ![fz](https://fz.invalid/x.png) <https://fz.invalid>',
  'a row and a rule of Markdown': '| fz | fz |\n|---|---|\n# fz\n- *fz* `fz` ~~fz~~',
  'a formula': '=HYPERLINK("https://fz.invalid","fz")',
  'a formula behind a sign': "-2+3+cmd|' /C fz'!A0",
  'a formula behind a blank sign': '\t=1+1',
  'a formula behind an at': '@SUM(1+1)*fz',
  'a line of a calendar': 'fz\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\nSUMMARY:fz',
  'a line of metrics': 'fz"} 1\nfz_total{x="\\',
  'a cell and a row': 'fz","fz"\r\n"fz,fz;fz\tfz',
  'a shell': '$(fz) `fz` ; fz | fz && fz %n %0A $fz',
  'a member of objects': '__proto__',
  'another member': 'constructor',
} as const;

const texts = Object.values(HOSTILE);
/** In quotes as YAML has them; what no file may hold as such is written as an escape. */
const quoted = (text: string): string =>
  JSON.stringify(text).replaceAll(
    /[\u007f-\u009f\u2028\u2029\ufeff]/g,
    (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
/** Ids hold no blanks. */
const idOf = (text: string, nth: number): string =>
  `${text.replaceAll(/[\s\u0085\ufeff]/gu, '').slice(0, 50)}-${nth}`;

/** The same ledger with these texts: the hostile ones, or harmless ones in their places. */
export function ledgerWith(write: (text: string, nth: number) => string): string {
  const given = texts.map(write);
  const at = (nth: number) => quoted(given[nth % given.length]!);
  const washes = given.map((text, nth) => {
    const day = String(1 + (nth % 28)).padStart(2, '0');
    const id = quoted(idOf(text, nth));
    return [
      `{id: ${id}, at: 2026-10-${day}T09:${10 + nth}:00-03:00, what: wash, parts: {model: 2}, cases: [${at(nth)}, ${at(nth + 1)}], lot: ${at(nth + 2)}, by: ${at(nth)}, note: ${at(nth)}}`,
      `{id: "i${nth}", at: 2026-10-${day}T10:${10 + nth}:00-03:00, what: inspect, wash: ${id}, result: sticky, cases: [${at(nth)}], note: ${at(nth + 3)}, by: ${at(nth + 4)}}`,
    ];
  });
  const records = [
    `{id: "s1", at: 2026-10-01T08:20:00-03:00, what: stock, solvent: ipa99, received_ml: 20000, price: 90, lot: ${at(18)}, supplier_note: ${at(11)}}`,
    ...given.map(
      (text, nth) =>
        `{id: "w${nth}", at: 2026-10-29T08:${10 + nth}:00-03:00, what: waste, container: ${quoted(text)}, action: opened, capacity_l: 10}`,
    ),
    `{id: "d1", at: 2026-10-29T09:00:00-03:00, what: drain, bath: dirty, ml: 200, into: ${at(15)}, by: ${at(3)}}`,
    `{id: "t1", at: 2026-10-29T09:05:00-03:00, what: top-up, bath: clean, solvent: ipa99, to: mark, note: ${at(2)}}`,
    `{id: "r1", at: 2026-10-29T09:10:00-03:00, what: reading, bath: dirty, density_g_ml: 0.80, temp_c: 20, note: ${at(1)}, by: ${at(4)}}`,
    `{id: "a1", at: 2026-10-29T09:20:00-03:00, what: amend, of: "d1", set: {note: ${at(13)}}, why: ${at(12)}, by: ${at(9)}}`,
    `{id: "v1", at: 2026-10-29T09:30:00-03:00, what: void, of: "i0", why: ${at(14)}, by: ${at(8)}}`,
    `{id: "c1", at: 2026-10-29T09:40:00-03:00, what: reclaim, container: ${at(15)}, ml: 100, method: settled, solvent: reclaimed}`,
  ];
  const fills = ['dirty', 'clean'].map(
    (bath) =>
      `{id: "f-${bath}", at: 2026-10-01T08:00:00-03:00, what: fill, bath: ${bath}, solvent: ipa99, ml: 4000, by: ${at(0)}, note: ${at(5)}}`,
  );
  const shop = quoted(write(texts.join(' ').slice(0, 70), texts.length));
  return `format: bathbook/1
shop:
  name: ${shop}
  timezone: America/Halifax
  currency: CAD
baths:
  dirty: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50}
  clean: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50}
solvents:
  ipa99: {ipa_wt_pct: 99.5, price_per_l: 4}
  reclaimed: {ipa_wt_pct: 90}
events:
${[...fills, ...washes.flat(), ...records].map((event) => `  - ${event}\n`).join('')}`;
}

/** Each in its place, none of them hostile. */
export const harmless = (_: string, nth: number): string => `fine ${nth}`;
export const asItIs = (text: string): string => text;
