/**
 * What a label for a waste container needs to say, and who says so. Import this only where a label is made: it brings the text of
 * data/limits.csv along.
 */
import { LIMIT_ROWS, type LimitRow } from './limit-rows.ts';

/** Where a line of the label comes from. */
interface Basis {
  says: string;
  citation: string;
  /** Its id in data/SOURCES.md. */
  source: string;
  jurisdiction: string;
}

export interface Label {
  /** The heading that US rules ask for. */
  words: string;
  hazard: string;
  signalWord: string;
  statements: readonly { code: string; text: string }[];
  /** Of pure isopropyl alcohol; the shipper decides for a mixture. */
  transport: { number: string; class: string; packingGroup: string };
  /** Codes of the European List of Waste that may fit. */
  wasteCodes: readonly { code: string; text: string }[];
  bases: readonly Basis[];
}

/** The harmonised sentences that belong to the codes, CLPANNEXVI in data/SOURCES.md. */
const STATEMENTS: Readonly<Record<string, string>> = {
  H225: 'highly flammable liquid and vapour',
  H319: 'causes serious eye irritation',
  H336: 'may cause drowsiness or dizziness',
};

/** The facts of a label for spent isopropyl alcohol. What they mean for a site is for local rules to say. */
export function labelFacts(): Label {
  const words = row('US-EPA', 'label words');
  const start = row('US-EPA', 'label accumulation start date');
  const closed = row('US-EPA', 'containers closed');
  const flash = row('US-EPA', 'D001 ignitable liquid');
  const ghs = LIMIT_ROWS.filter(({ jurisdiction }) => jurisdiction === 'GHS-CLP');
  const codes = ghs.filter(({ value }) => Object.hasOwn(STATEMENTS, value));
  const signal = ghs.find(({ item }) => item === 'signal word')!;
  return {
    words: words.value.split(' + ')[0]!.toUpperCase(),
    hazard: 'Ignitable (flammable) liquid',
    signalWord: signal.value,
    statements: codes.map(({ value }) => ({ code: value, text: STATEMENTS[value]! })),
    transport: {
      number: row('UN-DOT', 'transport number').value,
      class: row('UN-DOT', 'transport class').value,
      packingGroup: row('UN-DOT', 'packing group').value,
    },
    wasteCodes: LIMIT_ROWS.filter(({ item }) => EU_CODES.includes(item)).map(({ value, item }) => ({
      code: value,
      text: item.replace(/^waste code /, ''),
    })),
    bases: [
      basis(words, 'the words and the hazard'),
      basis(start, 'the start date, in central accumulation areas'),
      basis(closed, 'closed unless filled or emptied'),
      basis(flash, `ignitable: flash point below ${flash.value} °C`),
      basis(signal, 'signal word and hazard statements'),
      basis(row('UN-DOT', 'transport number'), 'transport number, class and packing group of pure IPA'),
    ],
  };
}

/** Those that spent washing liquid may come under; holder and contractor choose. */
const EU_CODES: readonly string[] = [
  'waste code other solvents and solvent mixtures',
  'waste code organic solvents and washing liquids (plastics)',
];

function basis({ citation, source, jurisdiction }: LimitRow, says: string): Basis {
  return { says, citation, source, jurisdiction };
}

/** The first row of a jurisdiction whose item begins so. The table is part of the program; a test asks for each. */
function row(jurisdiction: string, item: string): LimitRow {
  const found = LIMIT_ROWS.find((one) => one.jurisdiction === jurisdiction && one.item.startsWith(item));
  if (!found) throw new Error(`data/limits.csv has no "${item}" of ${jurisdiction}`);
  return found;
}
