/** What dissolves in each bath, and the resin that stays on a load. */
import { DISSOLUTION_MIN, MIDRINSE_SHARE, soakMinutes } from '../bath/load.ts';
import { bathVolume, resinMass } from '../bath/state.ts';
import { type Equation, type Explanation, equation, type Term } from './equation.ts';
import { bathAfterStep, type Seen, type SeenWash } from './seen.ts';
import { factorTerm, from, knownFactor, term, washBasis } from './terms.ts';

export function explainDissolution(seen: Seen, wash: SeenWash): Explanation {
  return {
    topic: 'dissolution',
    of: wash.event.id,
    title: 'Resin that dissolves in the soak',
    equations: soaks(seen, wash),
    known: [knownFactor(seen, 'dissolution')],
    remarks: [
      'Dissolving slows as a bath fills or takes up water; the model leaves that out, which is one reason for the limits.',
    ],
  };
}

export function explainResidue(seen: Seen, wash: SeenWash): Explanation {
  const { shop, status } = seen;
  const { load, outcome, event } = wash;
  const steps = soaks(seen, wash);
  const last = load.baths.length - 1;
  const { name } = shop.tubs[load.baths[last]!]!;
  const bath = bathAfterStep(wash, shop, last);
  const film = outcome.residueG - outcome.undissolvedG;
  const holdsMl = bathVolume(bath, shop.resins);
  const gPerMl = holdsMl > 0 ? resinMass(bath) / holdsMl : film / outcome.dragMl[last]!;
  const rest = equation({
    about: 'resin left on the load: undissolved, and in its last film',
    symbol: 'm',
    formula: 'u_end + D × k',
    value: outcome.residueG,
    unit: 'g',
    terms: [
      term('u_end', outcome.undissolvedG, 'g', 'still undissolved', 'worked out'),
      term(
        'D',
        outcome.dragMl[last]!,
        'mL',
        `liquid out of the ${name} bath`,
        event.drag_ml ? 'measured' : 'worked out',
      ),
      term('k', gPerMl, 'g/mL', `resin in the ${name} bath`, 'worked out'),
    ],
    sources: ['RECURSION'],
  });
  return {
    topic: 'residue',
    of: event.id,
    title: 'Resin left on a load',
    equations: [...steps, rest, ...overSurface(outcome, rest)],
    known: wash.isLast
      ? [
          {
            about: 'left over the surface, as it is told now',
            now: status.lastWash!.residueUgPerCm2,
            unit: 'µg/cm²',
          },
        ]
      : [],
    remarks: [
      'An estimate of mass left on the surface. It does not say that a part is clean or safe; the instructions for use of the resin decide about that.',
    ],
  };
}

function overSurface({ areaCm2, residueUgPerCm2 }: SeenWash['outcome'], rest: Equation): Equation[] {
  if (!(areaCm2 > 0)) return [];
  return [
    equation({
      about: 'the same over the surface',
      symbol: 'R',
      formula: 'm / A × 1000000',
      value: residueUgPerCm2,
      unit: 'µg/cm²',
      terms: [from(rest), term('A', areaCm2, 'cm²', 'surface of the load', 'worked out')],
      sources: [],
    }),
  ];
}

/** Of each bath: what the load brings undissolved, and what of it dissolves there. */
function soaks(seen: Seen, wash: SeenWash): Equation[] {
  const { shop } = seen;
  const { load, outcome } = wash;
  const steps: Equation[] = [];
  let undissolved: Term = term(
    'u',
    outcome.carryG,
    'g',
    'resin carried in',
    load.givenCarryG === undefined ? 'worked out' : 'measured',
  );
  load.baths.forEach((place, nth) => {
    const { name } = shop.tubs[place]!;
    const dissolved = dissolvedEquation(seen, wash, { nth, name, undissolved });
    steps.push(dissolved);
    if (nth === load.baths.length - 1) return;
    const left = leftEquation(seen, wash, { undissolved, dissolved, name });
    steps.push(left);
    undissolved = from(left, 'u');
  });
  return steps;
}

function dissolvedEquation(
  seen: Seen,
  wash: SeenWash,
  { nth, name, undissolved }: { nth: number; name: string; undissolved: Term },
): Equation {
  const { shop, header } = seen;
  const { event, outcome, factors } = wash;
  const usual = header.shop.defaults;
  const how = event.agitation ?? shop.defaults.agitation;
  return equation({
    about: `dissolved in the ${name} bath`,
    symbol: 's',
    formula: 'u × (1 − exp(−t / (κ_τ × τ)))',
    value: outcome.dissolvedG[nth]!,
    unit: 'g',
    terms: [
      undissolved,
      term(
        't',
        soakMinutes(event, shop)[nth]!,
        'min',
        `soak in the ${name} bath`,
        washBasis(event.minutes, usual?.minutes),
      ),
      factorTerm(seen, { factor: 'dissolution', symbol: 'κ_τ', value: factors.dissolution }),
      term('τ', DISSOLUTION_MIN[how], 'min', `dissolution time, ${how}`, 'default'),
    ],
    sources: ['DEFAULTS'],
  });
}

function leftEquation(
  { shop, header }: Seen,
  { event, load }: SeenWash,
  on: { undissolved: Term; dissolved: Equation; name: string },
): Equation {
  const { undissolved, dissolved, name } = on;
  const how = event.midrinse ?? shop.defaults.midrinse;
  return equation({
    about: `undissolved after the ${name} bath`,
    symbol: 'u_next',
    formula: '(u − s) × (1 − η_mid)',
    value: (undissolved.value - dissolved.value) * (1 - load.midrinseShare),
    unit: 'g',
    terms: [
      undissolved,
      from(dissolved),
      term(
        'η_mid',
        MIDRINSE_SHARE[how],
        '',
        `share taken off between the baths (${how})`,
        washBasis(event.midrinse, header.shop.defaults?.midrinse),
      ),
    ],
    sources: ['DEFAULTS'],
  });
}
