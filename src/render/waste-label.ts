/** The label of a waste container as plain text, to be printed and stuck on. */
import type { Label } from '../records/label.ts';
import type { Container } from '../records/waste.ts';
import { mass, percent, trim, volume } from './format.ts';
import { printable } from './printable.ts';
import { heldG } from './waste.ts';
import { wrap } from './wrap.ts';

/** Fits a label of 100 mm in a fixed 10-point type. */
const WIDTH = 58;
const LEFT = 12;

interface LabelView {
  shop: string;
  day: (ms: number) => string;
  clockMs: number;
}

/** The label alone. */
export function labelText(one: Container, facts: Label, view: LabelView): string {
  const rows: [string, string][] = [
    ['Container', [one.container, capacityText(one)].filter(Boolean).join(', ')],
    ['Contents', contentsText(one)],
    ['Started', view.day(one.openedMs)],
    ['Hazards', hazardText(facts)],
    ['', 'Uncured resin: may cause an allergic skin reaction, see its safety data sheet'],
    ['Keep', 'closed unless filling or emptying; away from heat, sparks, flames and sun'],
    ['Site', view.shop || '______________________________'],
    ['Contact', '______________________________'],
    ['Amount', `${one.heldMl > 0 ? `about ${volume(one.heldMl)}` : 'empty'} on ${view.day(view.clockMs)}`],
  ];
  const lines = rows.map(
    ([label, text]) => label.padEnd(LEFT) + wrap(printable(text), WIDTH - LEFT, ' '.repeat(LEFT)),
  );
  return [centred(facts.words), centred(facts.hazard), '', ...lines].join('\n');
}

/** Where each line comes from, and what is not for the program to say. */
export function labelNotes(facts: Label, width: number): string {
  const { number, class: hazardClass, packingGroup } = facts.transport;
  const codes = facts.wasteCodes.map(({ code, text }) => `${code} (${text})`).join(', ');
  return [
    'Not part of the label:',
    ...facts.bases.map(
      ({ says, citation, source, jurisdiction }) => `- ${says}: ${jurisdiction}, ${citation} [${source}]`,
    ),
    `- transport of pure IPA: ${number}, class ${hazardClass}, packing group ${packingGroup}; for a mixture the shipper decides`,
    `- European List of Waste, codes that may fit: ${codes} [EU2000532]; holder and contractor choose`,
    '- contents are what the ledger estimates, not an analysis; add what else went in, and every resin by its safety data sheet',
    '- local rules decide what a label must say; ask your local authority or contractor',
  ]
    .map((line) => (line.startsWith('- ') ? `- ${wrap(line.slice(2), width - 2, '  ')}` : wrap(line, width)))
    .join('\n');
}

function centred(text: string): string {
  return ' '.repeat(Math.max(0, Math.floor((WIDTH - text.length) / 2))) + text;
}

function capacityText({ capacityMl }: Container): string {
  return capacityMl === null ? '' : `takes ${trim(capacityMl / 1000, 1)} L`;
}

function contentsText(one: Container): string {
  const total = heldG(one);
  if (!(total > 0)) return 'Spent isopropyl alcohol (IPA) with uncured resin';
  const share = (grams: number) => `${percent((100 * grams) / total)} wt%`;
  const { ipa, resin, water } = one.grams;
  return `Spent isopropyl alcohol (IPA) with uncured resin, about ${mass(total)}: IPA ${share(ipa)}, resin ${share(resin)}, water ${share(water)}`;
}

function hazardText({ signalWord, statements }: Label): string {
  return `${signalWord}. ${statements.map(({ code, text }) => `${code} ${text}`).join('; ')}`;
}

/** The label in a document. */
export function labelDocument(one: Container, facts: Label, text: string): Record<string, unknown> {
  return {
    container: one.container,
    text,
    words: facts.words,
    hazard: facts.hazard,
    signal_word: facts.signalWord,
    statements: facts.statements,
    transport: {
      number: facts.transport.number,
      class: facts.transport.class,
      packing_group: facts.transport.packingGroup,
    },
    waste_codes: facts.wasteCodes,
    bases: facts.bases,
  };
}
