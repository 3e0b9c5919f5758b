import type { Line } from '../render/echo.ts';
import { aligned, tabSeparated } from '../render/table.ts';
import {
  answerTable,
  instrumentLines,
  readingWords,
  strengthDocument,
  strengthWords,
  told,
} from '../render/tables.ts';
import { type Grade, gradeOf } from '../substance/grades.ts';
import { type Agreement, againstLabel, type Label, readLabel } from '../substance/label.ts';
import {
  type Instruments,
  instrumentsAt,
  type Reading,
  type Strength,
  WIDEST_RANGE,
} from '../substance/strength.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT, usage } from './fault.ts';
import { readingOf, strengthOrFault } from './reading-options.ts';

interface Judged {
  reading: Reading;
  found: Strength;
  at: Instruments | null;
  grade: Grade | null;
  label: { label: Label; agreement: Agreement | 'unknown' } | null;
}

/** `strength`: what a reading of fresh solvent says about its strength, grade and label. */
export async function run(_args: string[], options: Options, context: Context): Promise<number> {
  const reading = readingOf(options);
  if (!reading) {
    throw usage(
      'Cannot tell a strength without a reading',
      'add --density VALUE, --sg VALUE or --index VALUE',
    );
  }
  const label = labelOf(options.label);
  const judged = judge(reading, strengthOrFault(reading), label);
  if (context.json) context.printJson('strength', await context.clockMs(), documentOf(judged));
  else await show(judged, context);
  return EXIT.done;
}

function labelOf(text: Options[string]): Label | null {
  if (typeof text !== 'string') return null;
  const label = readLabel(text);
  if ('message' in label) throw usage(`${label.message} (--label)`, label.help);
  return label;
}

function judge(reading: Reading, found: Strength, label: Label | null): Judged {
  const { wtPct } = found;
  const spread = (found.highWtPct - found.lowWtPct) / 2;
  const isVague = wtPct === null || 2 * spread > WIDEST_RANGE;
  return {
    reading,
    found,
    at: wtPct === null ? null : instrumentsAt(wtPct, reading.tempC),
    grade: isVague ? null : gradeOf(wtPct, spread),
    label: label && {
      label,
      agreement: isVague ? byRange(label, found) : againstLabel(label, wtPct, spread),
    },
  };
}

/** A range alone can contradict a label, never confirm it. */
function byRange(label: Label, { lowWtPct, highWtPct }: Strength): Agreement | 'unknown' {
  if (highWtPct < label.wtPct) return 'weaker';
  return lowWtPct > label.wtPct ? 'stronger' : 'unknown';
}

async function show(judged: Judged, context: Context): Promise<void> {
  const { found, reading, at } = judged;
  const lines: Line[] = [
    ['read', readingWords(reading)],
    ['strength', strengthWords(found)],
    ...coarse(reading),
    ...(found.wtPct === null ? [['', FLAT] as const] : []),
    ...(found.basis === 'tables'
      ? [['', 'from the published tables alone, the model ends at 40 wt%'] as const]
      : []),
    ...(at ? instrumentLines(at, reading.tempC) : []),
    ...gradeLine(judged),
    ...labelLines(judged, context),
  ];
  context.print(told(lines, context));
  if (found.tables.length > 0) {
    const table = answerTable(found.tables, reading.kind);
    context.print(context.onTerminal ? `\n${await aligned(table, context.paint)}` : tabSeparated(table));
  }
  context.note('For fresh solvent only: resin in the liquid reads like water on a hydrometer');
}

/** Two decimals leave several wt% open; a hydrometer shows three, and a nought at the end counts. */
function coarse({ kind, value, lastDigit = 0 }: Reading): Line[] {
  if ((kind !== 'density' && kind !== 'sg') || lastDigit < 0.0099) return [];
  return [
    [
      '',
      `so wide since it was given to ${lastDigit < 0.05 ? 'two decimals' : 'one decimal'}; if it read ${value.toFixed(3)}, type that`,
    ],
  ];
}

/** Nothing about grades when there is no strength to compare. */
function gradeLine({ found, grade }: Judged): Line[] {
  if (found.wtPct === null || found.highWtPct - found.lowWtPct > WIDEST_RANGE) return [];
  return [['grade', grade ? `fits ${grade.words} (${grade.source})` : 'fits none of the usual grades']];
}

const FLAT =
  'above about 80 wt% the index hardly changes, so that it cannot tell the strength; read the density';

function labelLines({ label: judged, found }: Judged, { paint }: Context): Line[] {
  if (!judged) return [];
  const { label, agreement } = judged;
  const difference = found.wtPct === null ? '' : ` by ${Math.abs(found.wtPct - label.wtPct).toFixed(1)} wt%`;
  const isMore = agreement === 'agrees' && found.lowWtPct > label.wtPct;
  const words = {
    agrees: `${label.words}: agrees${isMore ? ', being a lower limit' : ''}`,
    doubtful: `${label.words}: perhaps not, off${difference}; read again at 20 °C`,
    weaker: `${label.words}: weaker than it says${difference}`,
    stronger: `${label.words}: stronger than it says${difference}`,
    unknown: `${label.words}: this reading cannot tell`,
  }[agreement];
  const warning = agreement === 'weaker' || agreement === 'stronger';
  const hint = warning && label.bare && label.wtPct < 98 ? [['', byVolume(label)] as const] : [];
  return [['label', warning ? paint.verdict('soon', words) : words], ...hint];
}

/** Common practice, no source. */
function byVolume({ wtPct }: Label): string {
  return `labels of 70 and 91 % mean vol%; then type --label "${wtPct} vol%"`;
}

function documentOf({ reading, found, at, grade, label }: Judged): Record<string, unknown> {
  return {
    ...strengthDocument(reading, found, at),
    grade: grade?.name ?? null,
    label: label && {
      ipa_wt_pct: label.label.wtPct,
      text: label.label.words,
      agreement: label.agreement,
      warning: label.agreement === 'weaker' || label.agreement === 'stronger',
    },
  };
}
