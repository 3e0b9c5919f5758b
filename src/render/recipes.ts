/**
 * How each measurement is made, step by step, with its cautions.
 */
import type { BathEstimate } from '../outlook/estimate.ts';
import type { MeasurementKind } from '../outlook/measurements.ts';
import { brixFromIndex } from '../substance/brix.ts';
import { volume } from './format.ts';

export interface Recipe {
  /** What is done, in a few words. */
  title: string;
  needs: string;
  steps: readonly string[];
  cautions: readonly string[];
}

/** What instruments would show, as typed. */
export interface Shown {
  density?: string;
  index?: string;
  brix?: string;
  /** Residue of 10 mL, g. */
  dryG?: string;
  weight?: string;
  level?: string;
}

/** About what instruments will show of a bath, as it is estimated. */
export function shownOf(bath: BathEstimate | undefined): Shown {
  if (!bath?.densityRoom || !bath.indexRoom || !bath.resinGPerL) return {};
  return {
    density: bath.densityRoom.p50.toFixed(4),
    index: bath.indexRoom.p50.toFixed(4),
    brix: brixFromIndex(bath.indexRoom.p50).toFixed(1),
    dryG: (bath.resinGPerL.p50 / 100).toFixed(bath.resinGPerL.p50 < 10 ? 3 : 2),
    weight: `${bath.massG.p50.toFixed(0)} g`,
    level: volume(bath.volumeMl.p50),
  };
}

const GLOVES =
  'Gloves and eye protection: uncured resin sensitises skin; the safety data sheets decide which gloves';
const FLAME = 'Isopropanol is flammable: no flame, spark or hot plate near, and fresh air';
const WASTE = 'What is left over is waste like the bath: never down the drain';

/**
 * The recipe for a measurement.
 *
 * The steps are common practice, no source, but for the residue: evaporate, then cure the film before it is weighed, since
 * reactive thinners would go with the solvent (D5403), and the share of water the density cannot tell (derived, CHU1962).
 *
 * @param bath - its name; left out for a load
 * @param shown - about what the instrument will show, for the example
 */
export function recipeOf(kind: MeasurementKind, bath = 'dirty', shown: Shown = {}): Recipe {
  switch (kind) {
    case 'load':
      return {
        title: 'Weigh one load before and after its wash',
        needs: 'a balance that shows 0.1 g, better 0.01 g',
        steps: [
          'Let the parts drain as usual and do the usual rinse, if any; weigh the whole load: the wet weight',
          'Wash it as usual and log the wash',
          'Let it dry until the balance stands still, before light-curing; weigh the same parts again: the clean weight',
          'Log it: bathbook weighed --wet 412.3 --clean 409.1',
          'Repeat with two more loads on other days: single washes scatter by a quarter',
        ],
        cautions: [GLOVES, FLAME],
      };
    case 'residue':
      return {
        title: `Dry a sample of 10 mL from the ${bath} bath`,
        needs: 'a balance that shows 0.01 g (for the clean bath 0.001 g), a 10 mL syringe, a wide flat dish',
        steps: [
          'Stir the bath, then draw exactly 10 mL; weigh the empty dish',
          'Let the solvent of the sample go under a running fume hood until no smell is left',
          'Light-cure the film that stays, let it cool, weigh the dish again: the difference is the residue',
          `Log it: bathbook reading ${bath} --dry ${shown.dryG ?? '0.41'} --sample 10`,
        ],
        cautions: [
          FLAME,
          GLOVES,
          'Drying is for a sample of a few millilitres only; letting solvent evaporate is no way to get rid of it',
        ],
      };
    case 'density':
      return {
        title: `Read a hydrometer in the ${bath} bath, with fresh solvent as its zero`,
        needs: 'a hydrometer or density meter with marks of 0.001 g/mL, a thermometer',
        steps: [
          'Once, right after a fill or refill and before the first wash, log a reading of the fresh solvent: it shows whether glass and label agree, and becomes the zero if they do not',
          'Later: stir, wait for the bubbles to rise, read at the level of the liquid, and read the temperature in it',
          `Log it: bathbook reading ${bath} --density ${shown.density ?? '0.8010'} --temp 21 (or --sg with --ref 20/20; --glass 20 for a glass made for 20 °C)`,
          'Water raises the density as resin does: a refractive index of the same sample tells the two apart',
        ],
        cautions: [GLOVES, FLAME, WASTE],
      };
    case 'index':
      return {
        title: `Read a refractometer in the ${bath} bath`,
        needs: 'a hand refractometer that reads 1.37–1.39 (25–35 °Brix) to 0.2 °Brix or 0.0003',
        steps: [
          'Set it to zero with distilled water, dry the prism',
          'Stir the bath, put a drop on the prism, close it at once and wait half a minute',
          `Log it with the temperature: bathbook reading ${bath} --brix ${shown.brix ?? '30.4'} --temp 21 (or --index ${shown.index ?? '1.3812'})`,
        ],
        cautions: [GLOVES, FLAME],
      };
    case 'weekend':
      return {
        title: `Weigh the ${bath} bath before and after a weekend`,
        needs: 'a balance for the whole tub that shows 1 g, the weight of the empty tub',
        steps: [
          'After the last wash on Friday weigh the tub and take off its own weight',
          `Log it: bathbook reading ${bath} --weight "${shown.weight ?? '1890 g'}"`,
          'Wash nothing over the weekend, and open the lid as long each day as on a working day: the ledger counts on that',
          'Weigh again on Monday before the first wash, and log it the same way',
        ],
        cautions: ['Two people for a full tub, lid on while it is carried', FLAME],
      };
    case 'weight':
      return {
        title: `Weigh the ${bath} bath`,
        needs: 'a balance for the whole tub that shows 1 g, the weight of the empty tub',
        steps: [
          'Weigh the tub with its liquid, no parts in it, and take off its own weight',
          `Log it: bathbook reading ${bath} --weight "${shown.weight ?? '1890 g'}"`,
        ],
        cautions: ['Two people for a full tub, lid on while it is carried', FLAME],
      };
    case 'level':
      return {
        title: `Measure how much the ${bath} bath holds`,
        needs: 'marks on the tub, or a ruler and its inside length and width',
        steps: [
          'Take parts and basket out, let the liquid settle, read the level',
          `Log it: bathbook reading ${bath} --level "${shown.level ?? '2.4 L'}"`,
        ],
        cautions: [FLAME],
      };
    default:
      return kind satisfies never;
  }
}

/** The same in a few words, for a table. */
export const MEASUREMENT_WORDS: Record<MeasurementKind, string> = {
  load: 'a load, before and after',
  residue: 'dry residue of 10 mL',
  index: 'refractive index, °Brix',
  density: 'density or SG',
  weekend: 'weight over a weekend',
  weight: 'weight of the liquid',
  level: 'level',
};
