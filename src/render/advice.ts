/**
 * The advice for the pair in one sentence: action, reason, number.
 */
import type { Advice } from '../outlook/advice.ts';
import type { BathEstimate } from '../outlook/estimate.ts';
import type { LoadsLeft } from '../outlook/loads-left.ts';
import { isAtLeast } from '../outlook/verdict.ts';
import { count, percent, trim, volume } from './format.ts';

/** @param estimates - the same estimates the advice was drawn from */
export function adviceText(advice: Advice, estimates: readonly BathEstimate[]): string {
  const bath = estimates.find((estimate) => estimate.bath === advice.bath);
  switch (advice.action) {
    case 'nothing':
      return carryOn(advice.loadsLeft, estimates);
    case 'top-up':
      return advice.because === 'empty' ? fillFirst(bath!.bath, estimates) : topUp(bath!);
    case 'take-reading':
      return `Take a reading of the ${bath!.bath} bath: ${doubt(advice, bath!)}`;
    case 'rotate':
      return `${urgency('Rotate', advice, bath!)}: ${reason(advice, bath!)}${outlookIfSoon(advice, estimates)}`;
    case 'refill-clean':
      return advice.because === 'empty'
        ? fillFirst('clean', estimates)
        : `${urgency('Refill the clean bath', advice, bath!)}: ${reason(advice, bath!)}${notByRotation(advice, estimates)}`;
    case 'refill':
      return `${urgency(`Refill the ${bath!.bath} bath`, advice, bath!)}: ${reason(advice, bath!)}`;
    case 'refill-both':
      return advice.because === 'empty'
        ? advice.bath
          ? fillFirst(advice.bath, estimates)
          : 'Fill the baths before washing: there is no solvent in them'
        : `${urgency('Refill both baths', advice, bath!)}: ${reason(advice, bath!)}${notByRotation(advice, estimates)}`;
    default:
      return advice.action satisfies never;
  }
}

function fillFirst(bath: string, estimates: readonly BathEstimate[]): string {
  const past = estimates.filter((one) => one.resinWtPct !== null && isAtLeast(one.verdict, 'change'));
  const others = past.map(
    (one) => `; the ${one.bath} bath is past its change limit (${one.because}): refill it as well`,
  );
  return `Fill the ${bath} bath before washing: it is empty${others.join('')}`;
}

/** Below half of what it should hold, topping up cannot wait. */
function topUp(bath: BathEstimate): string {
  const level = bath.volumeMl.p50 < 0.5 * bath.markMl ? 'before the next wash' : 'when convenient';
  return `Top up the ${bath.bath} bath ${level}: it holds ${volume(bath.volumeMl.p50)} of ${volume(bath.markMl)}; that lowers the percentage, not the grams of resin`;
}

function carryOn(left: LoadsLeft | null, estimates: readonly BathEstimate[]): string {
  const below = `${onlyOrAll(estimates)} below ${estimates.length === 1 ? 'its' : 'their'} limits`;
  return left?.loads === 0
    ? `Wash with care: ${below}${outlook(left, estimates)}`
    : `Carry on: ${below}${outlook(left, estimates)}`;
}

function onlyOrAll(estimates: readonly BathEstimate[]): string {
  if (estimates.length === 1) return `the ${estimates[0]!.bath} bath is`;
  return estimates.length === 2 ? 'both baths are' : 'all baths are';
}

function urgency(action: string, advice: Advice, bath: BathEstimate): string {
  if (bath.verdict === 'stop') return `Stop washing. ${action} first`;
  return `${action} ${advice.when === 'now' ? 'now' : 'soon'}`;
}

function reason(advice: Advice, bath: BathEstimate): string {
  switch (advice.because) {
    case 'resin':
      return `the ${bath.bath} bath is at ${percent(bath.resinWtPct!.p50)} wt% resin (${limitText(bath.limits.resin)})`;
    case 'water':
      if (bath.dry) return `the solvent in the ${bath.bath} bath has evaporated`;
      if (bath.beyondModel)
        return `the solvent in the ${bath.bath} bath is below 40 wt% IPA, where the density data end`;
      return `the solvent in the ${bath.bath} bath holds ${percent(bath.waterWtPct!.p50)} wt% water (${limitText(bath.limits.water)})`;
    case 'age':
      return `the solvent in the ${bath.bath} bath is ${count(Math.floor(bath.ageDays ?? 0), 'day')} old (limit ${bath.limits.ageDays})`;
    case 'level':
    case 'empty':
    case 'none':
      return `the ${bath.bath} bath needs it`;
    default:
      return advice.because satisfies never;
  }
}

function limitText([soon, change, never]: BathEstimate['limits']['resin']): string {
  return `soon at ${trim(soon, 2)}, change at ${trim(change, 2)}, never above ${trim(never, 2)}`;
}

/** What it may have come to already. */
function doubt(advice: Advice, bath: BathEstimate): string {
  const [quantity, limits, what] =
    advice.because === 'water'
      ? ([bath.waterWtPct!, bath.limits.water, 'water'] as const)
      : ([bath.resinWtPct!, bath.limits.resin, 'resin'] as const);
  const best = `the best estimate is ${percent(quantity.p50)} wt% ${what}`;
  return `${best}, but it may be ${percent(quantity.p95 ?? quantity.p50)} (${limitText(limits)}); bathbook calibrate says which reading tells most`;
}

function notByRotation(advice: Advice, estimates: readonly BathEstimate[]): string {
  const bath = estimates.find((one) => one.bath === advice.bath);
  if (!advice.rotationWouldCarryWater || bath?.dry) return '';
  if (advice.because === 'water' && advice.bath === 'clean') {
    return '; rotating would only carry that water into the dirty bath';
  }
  const clean = estimates.find(({ bath }) => bath === 'clean')!;
  return `; the clean bath holds ${percent(clean.waterWtPct!.p50)} wt% water, which rotating would carry into the dirty one`;
}

function outlookIfSoon(advice: Advice, estimates: readonly BathEstimate[]): string {
  return advice.when === 'soon' ? outlook(advice.loadsLeft, estimates) : '';
}

function outlook(left: LoadsLeft | null, estimates: readonly BathEstimate[]): string {
  return left ? `; ${loadsLeftText(left, estimates)}` : '';
}

/** How many loads are left, and what they are counted to. */
export function loadsLeftText(left: LoadsLeft, estimates: readonly BathEstimate[]): string {
  if (left.bath === null) return `more than ${left.loads} loads like the recent ones to the first limit`;
  const bath = estimates.find((estimate) => estimate.bath === left.bath)!;
  if (isAtLeast(bath.verdict, 'change'))
    return `no more loads: the ${bath.bath} bath is past its change limit`;
  const limit = limitOf(left, estimates);
  if (left.loads === 0) return `with the next load like the recent ones ${limit}`;
  return `${loadsText(left)} like the recent ones until ${limit}`;
}

function loadsText({ loads, p05, p95 }: LoadsLeft): string {
  const likely = `about ${count(rounded(loads), 'more load')}`;
  return p05 === undefined || p95 === undefined ? likely : `${likely} (${rounded(p05)}–${rounded(p95)})`;
}

/** From 100 on to the nearest ten: the count is no better than a factor of two. */
function rounded(loads: number): number {
  return loads < 100 ? loads : Math.round(loads / 10) * 10;
}

function limitOf(left: LoadsLeft, estimates: readonly BathEstimate[]): string {
  const bath = estimates.find((estimate) => estimate.bath === left.bath)!;
  switch (left.because) {
    case 'resin':
      return `the ${bath.bath} bath reaches ${trim(bath.limits.resin[1], 2)} wt% resin`;
    case 'water':
      return `the ${bath.bath} bath reaches ${trim(bath.limits.water[1], 2)} wt% water`;
    case 'level':
    case null:
      return `the ${bath.bath} bath runs dry`;
    default:
      return left.because satisfies never;
  }
}
