/** The resin that a load brings into its first bath. */
import { filmMgPerCm2, PRERINSE_SHARE, TEXTURE } from '../bath/load.ts';
import { areaEquation } from './area.ts';
import { type Equation, type Explanation, equation, type Known } from './equation.ts';
import type { Seen, SeenWash } from './seen.ts';
import { factorTerm, from, knownFactor, roomTerm, term, washBasis } from './terms.ts';

export function explainCarry(seen: Seen, wash: SeenWash): Explanation {
  const { event, load } = wash;
  const given = load.givenCarryG !== undefined;
  return {
    topic: 'carry',
    of: event.id,
    title: 'Resin carried in by a load',
    equations: given ? givenCarry(seen, wash) : workedOut(seen, wash),
    known: [...bandOfCarry(seen, wash), ...(given ? [] : [knownFactor(seen, 'carry')])],
    remarks: [
      ...weighings(seen, wash),
      ...movedSince(seen, wash),
      ...(load.estimated ? ['This wash was logged as an estimate, which widens its band.'] : []),
      given
        ? 'The carry-over was measured and typed with this wash, so neither film nor factor is used.'
        : 'No carry-over per area has ever been published: before a reading this number is known to a factor of two. A load weighed before and after its wash teaches most: bathbook weighed.',
    ],
  };
}

function givenCarry({ shop }: Seen, { event, load, outcome }: SeenWash): Equation[] {
  if (event.carry_ml === undefined) return [];
  const { name, density } = shop.resins[load.resin]!;
  return [
    equation({
      about: 'resin into the first bath',
      symbol: 'c',
      formula: 'V × ρ_r',
      value: outcome.carryG,
      unit: 'g',
      terms: [
        term('V', event.carry_ml, 'mL', 'resin carried in', 'measured'),
        term('ρ_r', density, 'g/mL', `density of the resin ${name}`, 'catalogue'),
      ],
      sources: ['DEFAULTS'],
    }),
  ];
}

function workedOut(seen: Seen, wash: SeenWash): Equation[] {
  const { shop, header } = seen;
  const { event, load, outcome, factors } = wash;
  const usual = header.shop.defaults;
  const area = areaEquation(seen, wash);
  const areaTerm = area[0]
    ? from(area[0])
    : term('A', outcome.areaCm2, 'cm²', 'surface of the load', 'logged');
  const viscosity = viscosityEquation(seen, load.resin);
  const drained = event.drained_min ?? shop.defaults.drainedMin;
  const film = equation({
    about: 'film of resin left after draining, held between 2 and 40',
    symbol: 'f',
    formula: 'min(40, max(2, 22 × sqrt(µ / 400) / sqrt(t)))',
    value: filmMgPerCm2(viscosity.value, drained),
    unit: 'mg/cm²',
    terms: [
      from(viscosity),
      term('t', drained, 'min', 'drained', washBasis(event.drained_min, usual?.drained_min)),
    ],
    sources: ['JEFFREYS1930', 'DEFAULTS'],
  });
  const how = event.prerinse ?? shop.defaults.prerinse;
  const carry = equation({
    about: 'resin into the first bath',
    symbol: 'c',
    formula: 'κ_c × x × A × f / 1000 × (1 − η) + r',
    value: outcome.carryG,
    unit: 'g',
    terms: [
      factorTerm(seen, { factor: 'carry', symbol: 'κ_c', value: factors.carry }),
      term('x', TEXTURE, '', 'texture, supports and raft', 'default'),
      areaTerm,
      from(film),
      term(
        'η',
        PRERINSE_SHARE[how],
        '',
        `share taken off by the pre-rinse (${how})`,
        washBasis(event.prerinse, usual?.prerinse),
      ),
      term(
        'r',
        load.trappedG,
        'g',
        'resin trapped inside',
        event.trapped_g === undefined ? 'default' : 'logged',
      ),
    ],
    sources: ['DEFAULTS'],
  });
  return [...area, viscosity, film, carry];
}

function viscosityEquation(seen: Seen, place: number): Equation {
  const { shop, header } = seen;
  const { name, viscosity25, viscosityRoom } = shop.resins[place]!;
  const own = header.resins?.[name]?.viscosity_mpa_s;
  return equation({
    about: `viscosity of the resin ${name} in the room`,
    symbol: 'µ',
    formula: 'µ_25 × exp(−0.08 × (T − 25))',
    value: viscosityRoom,
    unit: 'mPa·s',
    terms: [
      term('µ_25', viscosity25, 'mPa·s', 'viscosity at 25 °C', own === undefined ? 'catalogue' : 'ledger'),
      roomTerm(seen),
    ],
    sources: ['DEFAULTS'],
  });
}

/** The worlds tell how far off the last wash may be; of earlier ones they keep no trace. */
function bandOfCarry({ status }: Seen, { isLast }: SeenWash): Known[] {
  return isLast ? [{ about: 'carried in, as it is told now', now: status.lastWash!.carryG, unit: 'g' }] : [];
}

/** The formula has the factors as they were known when it was washed. */
function movedSince({ status }: Seen, { isLast, outcome }: SeenWash): string[] {
  const now = isLast ? status.lastWash!.carryG.p50 : outcome.carryG;
  const same = Math.abs(now - outcome.carryG) <= 1e-9 * outcome.carryG;
  return same
    ? []
    : [
        'The formula has the factors as they were known at that wash; readings of it or since have moved what is told now.',
      ];
}

function weighings({ status }: Seen, { event }: SeenWash): string[] {
  const weighed = status.belief.compared.filter(
    ({ entry, sees }) => sees === 'carry' && 'wash' in entry.event && entry.event.wash === event.id,
  );
  return weighed.map(
    ({ value, expected }) =>
      `This load was weighed: ${value.toFixed(1)} g came off it, ${expected.p50.toFixed(1)} g had been expected.`,
  );
}
