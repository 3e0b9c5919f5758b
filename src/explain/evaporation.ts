/** The IPA that a bath loses to the room, as it stands now. */
import { MOLAR_MASS, openFlux, rimTransfer } from '../bath/air.ts';
import { type Bath, bathVolume, resinMass } from '../bath/state.ts';
import { activityCoefficients } from '../substance/activity.ts';
import { type Equation, type Explanation, equation } from './equation.ts';
import { readingRemarks } from './reading-remarks.ts';
import type { Seen } from './seen.ts';
import { factorTerm, from, headBasis, knownFactor, term } from './terms.ts';

/** @param place - of a bath that holds solvent */
export function explainEvaporation(seen: Seen, place: number): Explanation {
  const { shop, status, header, histories } = seen;
  const tub = shop.tubs[place]!;
  const bath = status.replayed.baths[place]!;
  const duty = dutyEquation(tub.air.duty, header.baths[tub.name]!.lid_open_h);
  const freeboard = freeboardEquation(seen, place, bath);
  const transfer = transferEquation(seen, place, freeboard);
  const activity = activityEquation(bath);
  const flux = fluxEquation(seen, place, { transfer, activity, freeboard });
  const loss = equation({
    about: 'IPA lost in a day, lid off and on',
    symbol: 'E',
    formula: 'κ_e × o × F × 24',
    value: status.factors.air[place]!.evaporation * duty.value * flux.value * 24,
    unit: 'g/day',
    terms: [
      factorTerm(seen, {
        factor: 'evaporation',
        symbol: 'κ_e',
        value: status.factors.air[place]!.evaporation,
        tub: place,
      }),
      from(duty),
      from(flux),
    ],
    sources: ['DEFAULTEVAP'],
  });
  const { air } = histories[place]!.balance.ipa;
  return {
    topic: 'evaporation',
    of: tub.name,
    title: `Evaporation from the ${tub.name} bath`,
    equations: [duty, freeboard, transfer, activity, flux, loss],
    known: [knownFactor(seen, 'evaporation', place)],
    remarks: [
      `Since the liquid was last changed the air has taken about ${Math.round(Math.max(0, -air))} g of IPA.`,
      'Published models of evaporation differ by a factor of 40 for one tub: this is an estimate of a loss in use, no measure of the air at the bench, and never a way to dispose of solvent.',
      ...readingRemarks(seen, place),
    ],
  };
}

function dutyEquation(duty: number, lidOpenH: number | undefined): Equation {
  return equation({
    about: 'how open the tub is on average; a closed lid leaks a twentieth',
    symbol: 'o',
    formula: '(h_open + 0.05 × (24 − h_open)) / 24',
    value: duty,
    unit: '',
    terms: [term('h_open', lidOpenH ?? 1, 'h', 'hours a day without the lid', headBasis(lidOpenH))],
    sources: ['DEFAULTEVAP'],
  });
}

function freeboardEquation({ shop }: Seen, place: number, bath: Bath): Equation {
  const { markMl, freeboardM, surfaceM2 } = shop.tubs[place]!;
  const volumeMl = bathVolume(bath, shop.resins);
  return equation({
    about: 'height from the surface up to the rim, not below 0',
    symbol: 'h',
    formula: 'max(0, h_mark + (V_mark − V) / 1000000 / A)',
    value: Math.max(0, freeboardM + (markMl - volumeMl) / 1e6 / surfaceM2),
    unit: 'm',
    terms: [
      term('h_mark', freeboardM, 'm', 'freeboard at the mark', 'ledger'),
      term('V_mark', markMl, 'mL', 'volume at the mark', 'ledger'),
      term('V', volumeMl, 'mL', 'volume now', 'worked out'),
      term('A', surfaceM2, 'm²', 'open surface', 'ledger'),
    ],
    sources: [],
  });
}

function transferEquation({ shop }: Seen, place: number, freeboard: Equation): Equation {
  const { rimResistance, layerResistance } = shop.tubs[place]!.air.ipa;
  const { diffusivity } = shop.air.ipa;
  return equation({
    about: 'speed at which vapour passes into the room',
    symbol: 'k',
    formula: '1 / (1 / k_rim + q × h / D)',
    value: 1 / (rimResistance + layerResistance * freeboard.value),
    unit: 'm/s',
    terms: [
      term(
        'k_rim',
        1 / rimResistance,
        'm/s',
        'at the rim, 0.15 m/s of moving air or a disc in still air',
        'worked out',
      ),
      term('q', layerResistance * diffusivity, '', 'share of the freeboard that stands still', 'default'),
      from(freeboard),
      term('D', diffusivity, 'm²/s', 'diffusivity of IPA in air', 'worked out'),
    ],
    sources: ['EPARMP', 'BALDWIN1998', 'HULARSON', 'FULLER'],
  });
}

function activityEquation(bath: Bath): Equation {
  const ipaMol = bath.ipaG / MOLAR_MASS.ipa;
  const waterMol = bath.waterG / MOLAR_MASS.water;
  const pair = ipaMol + waterMol;
  const all = pair + resinMass(bath) / MOLAR_MASS.resin;
  const gamma = activityCoefficients(ipaMol / pair, waterMol / pair).ipa;
  return equation({
    about: 'how strongly the liquid gives off IPA; pure IPA is 1',
    symbol: 'a',
    formula: 'γ × x_a',
    value: (gamma * ipaMol) / all,
    unit: '',
    terms: [
      term('γ', gamma, '', 'activity coefficient beside its water', 'worked out'),
      term('x_a', ipaMol / all, '', 'IPA as a share of all molecules', 'worked out'),
    ],
    sources: ['VANLAAR'],
  });
}

function fluxEquation(
  { shop }: Seen,
  place: number,
  { transfer, activity, freeboard }: { transfer: Equation; activity: Equation; freeboard: Equation },
): Equation {
  const { surfaceM2 } = shop.tubs[place]!;
  const vapour = shop.air.ipa;
  return equation({
    about: 'IPA lost an hour with the lid off',
    symbol: 'F',
    formula: '3600 × A × k × c_s × a',
    value: openFlux({
      vapour,
      rim: rimTransfer(vapour.diffusivity, MOLAR_MASS.ipa, surfaceM2),
      surfaceM2,
      freeboardM: freeboard.value,
      activity: activity.value,
    }),
    unit: 'g/h',
    terms: [
      term('A', surfaceM2, 'm²', 'open surface', 'ledger'),
      from(transfer),
      term('c_s', vapour.saturatedGPerM3, 'g/m³', 'IPA in saturated air at room temperature', 'worked out'),
      from(activity),
    ],
    sources: ['POLING'],
  });
}
