/** What the readings just logged showed, beside what was expected: the lines and the JSON of their echo. */
import type { Compared } from '../belief/belief.ts';
import { factorBand, factorName } from '../outlook/factors-band.ts';
import { comparedLines, flagText, taughtLines, togetherLines } from '../render/compared.ts';
import { comparedDocument } from '../render/documents-reading.ts';
import type { Line } from '../render/echo.ts';
import type { Logged } from './write.ts';

export interface Learned {
  lines: Line[];
  warnings: string[];
  documents: unknown[];
}

/** @param logged - with the status before, at the same clock */
export function learnedFrom(logged: Logged): Learned {
  const { status, before, written } = logged;
  const ids = new Set(written.map(({ event }) => event.id));
  const all = status.belief.compared.filter(({ entry }) => ids.has(entry.event.id));
  const band = (axis: Compared['taught'][number]) => ({
    name: factorName(axis, status.shop),
    before: factorBand(before!.factors, before!.belief, axis),
    after: factorBand(status.factors, status.belief, axis),
  });
  return {
    lines: [
      ...all.flatMap(comparedLines),
      ...togetherLines(all),
      ...taughtLines(all, status.belief.ensemble.axes, band),
    ],
    warnings: all.filter(({ flagged }) => flagged).map(flagText),
    documents: all.map((one) => comparedDocument(one, status.shop)),
  };
}
