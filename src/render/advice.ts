/**
 * The advice for the pair in one sentence: action, reason, number.
 */
import type { Advice } from '../outlook/advice.ts';
import type { BathEstimate } from '../outlook/estimate.ts';
import type { LoadsLeft } from '../outlook/loads-left.ts';
import { count, percent, trim, volume } from './format.ts';

/** @param estimates - the same estimates the advice was drawn from */
export function adviceText(advice: Advice, estimates: readonly BathEstimate[]): string {
  const bath = estimates.find((estimate) => estimate.bath === advice.bath);
  switch (advice.action) {
    case 'nothing':
      return `Carry on: ${onlyOrAll(estimates)} below ${estimates.length === 1 ? 'its' : 'their'} limits${outlook(advice.loadsLeft, estimates)}`;
    case 'top-up':
      return `Top up the ${bath!.bath} bath when convenient: it holds ${volume(bath!.volumeMl.p50)}; that lowers the percentage, not the grams of resin`;
    case 'take-reading':
      return 'Take a reading before deciding';
    case 'rotate':
      return `${urgency('Rotate', advice, bath!)}: ${reason(advice, bath!)}${outlookIfSoon(advice, estimates)}`;
    case 'refill-clean':
      return advice.because === 'empty'
        ? 'Fill the clean bath before washing: it is empty'
        : `${urgency('Refill the clean bath', advice, bath!)}: ${reason(advice, bath!)}${notByRotation(advice)}`;
    case 'refill-both':
      return advice.because === 'empty'
        ? `Fill ${advice.bath ? `the ${advice.bath} bath` : 'the baths'} before washing: no solvent in ${advice.bath ? 'it' : 'them'}`
        : `${urgency('Refill both baths', advice, bath!)}: ${reason(advice, bath!)}${notByRotation(advice)}`;
    default:
      return advice.action satisfies never;
  }
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

function notByRotation(advice: Advice): string {
  return advice.rotationWouldCarryWater ? '; rotating would only carry that water into the dirty bath' : '';
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
  const limit = limitOf(left, estimates);
  const more = left.loads === 0 ? 'no more loads' : `about ${count(left.loads, 'more load')}`;
  return `${more} like the recent ones until ${limit}`;
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
