import { labelled } from '../render/echo.ts';
import { aligned, type Table, tabSeparated } from '../render/table.ts';
import { told } from '../render/tables.ts';
import {
  airTable,
  limitsTable,
  modelsTable,
  type VapourBasis,
  vapourLines,
  vapourNotes,
} from '../render/vapour.ts';
import { vapourCautions } from '../render/vapour-cautions.ts';
import { vapourDocument } from '../render/vapour-json.ts';
import { wrap } from '../render/wrap.ts';
import { FLAMMABLE, FLASH_POINT_C, JURISDICTIONS } from '../vapour/exposure-limits.ts';
import { type Vapour, vapourOf } from '../vapour/vapour.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT } from './fault.ts';
import { benchOf } from './vapour-bench.ts';
import { jurisdictionOption, mixingOption, quantityIn, roomOption } from './vapour-options.ts';

/** `vapour`: fire and vapour of the tubs in a room; cautions first, and nothing that reassures. */
export async function run(_args: string[], options: Options, context: Context): Promise<number> {
  const asked = {
    mixing: mixingOption(options),
    openMin:
      quantityIn(options, 'open', 'duration', {
        least: 1,
        most: 1440,
        unit: 'minutes',
        example: '"10 min"',
      }) ?? 10,
    nearM: nearOption(options),
    jurisdiction: jurisdictionOption(options, JURISDICTIONS),
  };
  const { room, assumed } = roomOption(options);
  const bench = await benchOf(options, context);
  const vapour = vapourOf({ ...asked, room, tubs: bench.tubs, tempC: bench.tempC });
  const basis = { leftOut: bench.leftOut, factors: bench.factors, assumed: [...bench.assumed, ...assumed] };
  const cautions = vapourCautions(vapour, FLAMMABLE);
  if (context.json) {
    const on = { basis, cautions, flammable: FLAMMABLE, flashPointC: FLASH_POINT_C };
    context.printJson('vapour', bench.clockMs, vapourDocument(vapour, on));
  } else await show(vapour, basis, cautions, context);
  return EXIT.done;
}

function nearOption(options: Options): number | null {
  const range = { least: 200, most: 3000, unit: 'mm', example: '"50 cm"' };
  const distanceMm = quantityIn(options, 'near', 'length', range);
  return distanceMm === undefined ? null : distanceMm / 1000;
}

async function show(
  vapour: Vapour,
  basis: VapourBasis,
  cautions: readonly string[],
  context: Context,
): Promise<void> {
  const lines = cautions.map((text, place) => [place === 0 ? 'cautions' : '', text] as const);
  const joined = context.onTerminal && vapour.question.jurisdiction === null;
  const tables = [airTable(vapour), limitsTable(vapour, { joined }), modelsTable(vapour)];
  if (!context.onTerminal) {
    context.print(told([...lines, ...vapourLines(vapour, basis)], context));
    for (const table of tables) context.print(`\n${tabSeparated(table)}`);
    for (const note of vapourNotes(vapour)) context.print(`note\t${note}`);
    return;
  }
  context.print(`${labelled(lines, context)}\n\n${labelled(vapourLines(vapour, basis), context)}`);
  for (const table of tables) context.print(`\n${await drawn(table, context)}`);
  for (const note of vapourNotes(vapour))
    context.print(`\n${context.paint.faint(wrap(note, context.width))}`);
}

function drawn(table: Table, { paint, width }: Context): Promise<string> {
  return aligned(table, paint, width);
}
