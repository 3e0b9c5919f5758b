/** The liquid that a load takes out of each bath. */
import { BASKET_ML, DRAG_ML_PER_M2 } from '../bath/load.ts';
import { type Bath, bathDensity, ipaFraction, resinFraction, resinMean } from '../bath/state.ts';
import { clingMultiplier } from '../bath/wash.ts';
import { mixtureDensity } from '../substance/mixture.ts';
import { bathViscosity, solventViscosity } from '../substance/viscosity.ts';
import { type Equation, type Explanation, equation } from './equation.ts';
import { bathAfterStep, type Seen, type SeenWash } from './seen.ts';
import { factorTerm, from, knownFactor, term } from './terms.ts';

export function explainDrag(seen: Seen, wash: SeenWash): Explanation {
  const { load, event } = wash;
  const given = load.givenDragMl !== undefined;
  const film = filmEquation(seen, wash);
  return {
    topic: 'drag',
    of: event.id,
    title: 'Liquid carried out on a load',
    equations: given
      ? []
      : [film, ...load.baths.flatMap((_, nth) => bathEquations(seen, wash, { nth, film }))],
    known: [...(wash.isLast ? bands(seen, wash) : []), ...(given ? [] : [knownFactor(seen, 'drag')])],
    remarks: [
      given
        ? 'What left was measured and typed with this wash.'
        : 'After a drip of about ten seconds. A longer drip over the bath takes less along; a basket that drips costs nothing.',
    ],
  };
}

function bands({ status, shop }: Seen, { load }: SeenWash) {
  return load.baths.map((place, nth) => ({
    about: `out of the ${shop.tubs[place]!.name} bath, as it is told now`,
    now: status.lastWash!.dragMl[nth]!,
    unit: 'mL',
  }));
}

/** Film of all parts in a bath as thin as solvent, and the basket. */
function filmEquation({ shop }: Seen, { event, load, outcome }: SeenWash): Equation {
  const cupArea = event.parts
    ? Object.entries(event.parts).reduce((sum, [name, count]) => {
        const { shape, areaCm2 } = shop.parts.get(name)!;
        return event.hollow === true || shape === 'hollow' ? sum + areaCm2 * count : sum;
      }, 0)
    : event.hollow === true
      ? outcome.areaCm2
      : 0;
  return equation({
    about: 'liquid on the load out of fresh solvent',
    symbol: 'L',
    formula: '(A_open × d_open + A_cup × d_cup) / 10000 + b',
    value: load.dragMl,
    unit: 'mL',
    terms: [
      term('A_open', outcome.areaCm2 - cupArea, 'cm²', 'surface of open parts', 'worked out'),
      term('d_open', DRAG_ML_PER_M2.open, 'mL/m²', 'film on open parts', 'default'),
      term('A_cup', cupArea, 'cm²', 'surface of hollow and cup-like parts', 'worked out'),
      term('d_cup', DRAG_ML_PER_M2.cup, 'mL/m²', 'film on cups', 'default'),
      term('b', BASKET_ML, 'mL', 'basket or tray', 'default'),
    ],
    sources: ['SODERBERG', 'DEFAULTS'],
  });
}

function bathEquations(
  seen: Seen,
  wash: SeenWash,
  { nth, film }: { nth: number; film: Equation },
): Equation[] {
  const { shop } = seen;
  const { name } = shop.tubs[wash.load.baths[nth]!]!;
  const cling = clingEquation(seen, bathAfterStep(wash, shop, nth), name);
  const drag = equation({
    about: `out of the ${name} bath`,
    symbol: 'D',
    formula: 'κ_d × g × L',
    value: wash.outcome.dragMl[nth]!,
    unit: 'mL',
    terms: [
      factorTerm(seen, { factor: 'drag', symbol: 'κ_d', value: wash.factors.drag }),
      from(cling),
      from(film),
    ],
    sources: ['DEFAULTS'],
  });
  return [cling, drag];
}

/** At the room's temperature: viscosity and density are worked out from the mixture. */
function clingEquation({ shop }: Seen, bath: Bath, name: string): Equation {
  const { resins, roomC } = shop;
  const solvent = solventViscosity(ipaFraction(bath), roomC);
  const thick = bathViscosity({
    resinFraction: resinFraction(bath),
    resinViscosity: resinMean(bath, resins, 'viscosityRoom'),
    solventViscosity: solvent,
  });
  return equation({
    about: `how much more the ${name} bath clings than its solvent, held between 1 and 3`,
    symbol: 'g',
    formula: 'min(3, max(1, sqrt(µ_b / ρ_b / (µ_s / ρ_s))))',
    value: clingMultiplier(bath, shop),
    unit: '',
    terms: [
      term('µ_b', thick, 'mPa·s', 'viscosity of the bath', 'worked out'),
      term('ρ_b', bathDensity(bath, resins, roomC), 'g/mL', 'density of the bath', 'worked out'),
      term('µ_s', solvent, 'mPa·s', 'viscosity of its solvent', 'worked out'),
      term('ρ_s', mixtureDensity(ipaFraction(bath), roomC), 'g/mL', 'density of its solvent', 'worked out'),
    ],
    sources: ['JEFFREYS1930', 'GONZALEZ2008', 'MODEL'],
  });
}
