/** The surface of a load. */
import { partArea } from '../bath/load.ts';
import type { Part } from '../bath/shop.ts';
import { type Equation, type Explanation, equation, type Term } from './equation.ts';
import type { Seen, SeenWash } from './seen.ts';
import { headBasis, term } from './terms.ts';

/** Area of one part by its shape; data/SOURCES.md, DEFAULTS. */
const BY_SHAPE: Record<Part['shape'], string> = {
  solid: '8.5 × V ^ (2 / 3)',
  small: '7 × V ^ (2 / 3)',
  sheet: '10 × V',
  mask: '8 × V',
  hollow: '2 × V / d',
};

export function explainArea(seen: Seen, wash: SeenWash): Explanation {
  const { parts } = wash.event;
  const each = Object.keys(parts ?? {}).flatMap((name) => partEquation(seen, name));
  return {
    topic: 'area',
    of: wash.event.id,
    title: 'Surface of the load',
    equations: [...each, ...areaEquation(seen, wash)],
    known: [],
    remarks: [
      wash.event.area_cm2 !== undefined
        ? 'The surface was typed with the wash.'
        : 'A surface from volume and shape is a fit to printed arches, good to a tenth or two. One that was measured on the print’s file can be typed with --area.',
    ],
  };
}

/** The sum over the kinds of parts; nothing where the surface was typed. */
export function areaEquation(seen: Seen, { event, outcome }: SeenWash): Equation[] {
  const about = 'surface of the load';
  const result = { about, symbol: 'A', value: outcome.areaCm2, unit: 'cm²', sources: ['DEFAULTS'] };
  if (event.parts) {
    const kinds = Object.entries(event.parts);
    const formula = kinds.map((_, nth) => `n_${nth + 1} × A_${nth + 1}`).join(' + ');
    const terms = kinds.flatMap(([name, count], nth) => [
      term(`n_${nth + 1}`, count, '', `number of ${name}`, 'logged'),
      areaTerm(seen, name, `A_${nth + 1}`),
    ]);
    return [equation({ ...result, formula, terms })];
  }
  if (event.area_cm2 !== undefined || event.volume_ml === undefined) return [];
  const terms = [term('V', event.volume_ml, 'mL', 'volume of all parts', 'logged')];
  return [equation({ ...result, formula: BY_SHAPE.solid, terms })];
}

function areaTerm({ shop, header }: Seen, name: string, symbol: string): Term {
  const basis = header.parts?.[name] === undefined ? 'catalogue' : 'ledger';
  return term(symbol, shop.parts.get(name)!.areaCm2, 'cm²', `surface of one ${name}`, basis);
}

/** Of one part; nothing where its surface is given and not worked out. */
function partEquation(seen: Seen, name: string): Equation[] {
  const { shop, header } = seen;
  const part = shop.parts.get(name)!;
  const own = header.parts?.[name];
  const wallMm = own?.wall_mm ?? 2;
  const wall = part.shape === 'hollow' ? { wall_mm: wallMm } : {};
  const worked = partArea({ shape: part.shape, volume_ml: part.volumeMl, ...wall });
  if (Math.abs(worked - part.areaCm2) > 1e-9 * worked) return [];
  const basis = own === undefined ? 'catalogue' : 'ledger';
  return [
    equation({
      about: `surface of one ${name} (${part.shape})`,
      symbol: 'A_part',
      formula: BY_SHAPE[part.shape],
      value: part.areaCm2,
      unit: 'cm²',
      terms: [
        term('V', part.volumeMl, 'mL', `volume of one ${name}`, basis),
        ...(part.shape === 'hollow' ? [term('d', wallMm / 10, 'cm', 'wall', headBasis(own?.wall_mm))] : []),
      ],
      sources: ['DEFAULTS'],
    }),
  ];
}
