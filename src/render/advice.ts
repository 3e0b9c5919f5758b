/**
 * The advice for the pair in one sentence: action, reason, number.
 */
import { type Advice, isOverfull } from '../outlook/advice.ts';
import type { BathEstimate } from '../outlook/estimate.ts';
import type { LoadsLeft } from '../outlook/loads-left.ts';
import type { Plan, Rest } from '../outlook/plan.ts';
import { isAtLeast } from '../outlook/verdict.ts';
import { count, percent, trim, volume } from './format.ts';

/** @param estimates - the same estimates the advice was drawn from */
export function adviceText(advice: Advice, estimates: readonly BathEstimate[]): string {
  return `${actionText(advice, estimates)}${doubts(advice, estimates)}`;
}

function actionText(advice: Advice, estimates: readonly BathEstimate[]): string {
  const bath = estimates.find((estimate) => estimate.bath === advice.bath);
  switch (advice.action) {
    case 'nothing':
      return carryOn(advice, estimates);
    case 'top-up':
      return advice.because === 'empty' ? fillFirst(bath!.bath, estimates) : topUp(bath!);
    case 'take-reading':
      return measure(advice, bath!, estimates);
    case 'rotate':
      return `${urgency('Rotate', advice, bath!)}: ${reason(advice, bath!)}${outlookIfSoon(advice, estimates)}${bothNear(advice, estimates)}`;
    case 'refill-clean':
      return advice.because === 'empty'
        ? fillFirst('clean', estimates)
        : `${urgency('Refill the clean bath', advice, bath!)}: ${reason(advice, bath!)}${notByRotation(advice, estimates)}`;
    case 'refill':
      return `${urgency(`Refill the ${bath!.bath} bath`, advice, bath!)}: ${reason(advice, bath!)}${outlookIfSoon(advice, estimates)}`;
    case 'refill-both':
      return advice.because === 'empty'
        ? advice.bath
          ? fillFirst(advice.bath, estimates)
          : fillAll(estimates)
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

/** Of more than two baths some may hold solvent. */
function fillAll(estimates: readonly BathEstimate[]): string {
  const empty = estimates.filter(({ resinWtPct }) => resinWtPct === null).map(({ bath }) => bath);
  if (empty.length === estimates.length) return 'Fill the baths before washing: there is no solvent in them';
  return `Fill the ${empty.slice(0, -1).join(', ')} and ${empty.at(-1)} baths before washing: they are empty`;
}

/** Below half of what it should hold, topping up cannot wait. */
function topUp(bath: BathEstimate): string {
  const level = bath.volumeMl.p50 < 0.5 * bath.markMl ? 'before the next wash' : 'when convenient';
  return `Top up the ${bath.bath} bath ${level}: it holds ${volume(bath.volumeMl.p50)} of ${volume(bath.markMl)}; that lowers the percentage, not the grams of resin`;
}

function carryOn(advice: Advice, estimates: readonly BathEstimate[]): string {
  const left = advice.loadsLeft;
  const below = `${onlyOrAll(estimates)} below ${estimates.length === 1 ? 'its' : 'their'} limits`;
  return left?.loads === 0
    ? `Wash with care: ${below}${outlook(advice, estimates)}`
    : `Carry on: ${below}${outlook(advice, estimates)}`;
}

function measure(advice: Advice, bath: BathEstimate, estimates: readonly BathEstimate[]): string {
  switch (advice.because) {
    case 'overfull':
      return `Measure the level of the ${bath.bath} bath (bathbook reading ${bath.bath} --level): ${overfullText(bath)}; see whether an amount was a slip (bathbook entries --bath ${bath.bath})`;
    case 'reading':
      return `Measure the ${bath.bath} bath again: ${doubtedText(bath)}, and one of the two is wrong; by the estimate ${onlyOrAll(estimates)} below ${estimates.length === 1 ? 'its' : 'their'} limits${outlook(advice, estimates)}`;
    default:
      return `Take a reading of the ${bath.bath} bath: ${doubt(advice, bath)}`;
  }
}

function overfullText({ volumeMl, brimMl }: BathEstimate): string {
  return `by the ledger it holds ${volume(volumeMl.p50)}, and ${volume(brimMl)} goes into it`;
}

function doubtedText({ doubted }: BathEstimate): string {
  return `its last reading (${doubted!.id}) lies ${doubted!.misfit.toFixed(1)} standard deviations from the estimate`;
}

/** What to measure of a bath whose figures cannot be trusted, and why. */
export function measureAgain(bath: BathEstimate): string {
  return isOverfull(bath)
    ? `measure the level of the ${bath.bath} bath: ${overfullText(bath)}`
    : `measure the ${bath.bath} bath again: ${doubtedText(bath)}`;
}

/** What makes the figures doubtful that the advice was drawn from. */
function doubts(advice: Advice, estimates: readonly BathEstimate[]): string {
  if (advice.because === 'overfull' || advice.because === 'reading') return '';
  const texts = estimates.flatMap((bath) => {
    if (isOverfull(bath)) return [`; measure the level of the ${bath.bath} bath: ${overfullText(bath)}`];
    return bath.doubted
      ? [`; measure the ${bath.bath} bath again before you trust this: ${doubtedText(bath)}`]
      : [];
  });
  return texts.join('');
}

function onlyOrAll(estimates: readonly BathEstimate[]): string {
  if (estimates.length === 1) return `the ${estimates[0]!.bath} bath is`;
  return estimates.length === 2 ? 'both baths are' : 'all baths are';
}

function urgency(action: string, advice: Advice, bath: BathEstimate): string {
  if (bath.verdict === 'stop') return `Stop washing. ${action} first`;
  if (advice.afterRest) return afterDaysOff(action, advice.plan!.rest!);
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
    case 'overfull':
    case 'reading':
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
  return advice.when === 'soon' ? outlook(advice, estimates) : '';
}

const WEEKDAYS = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'];

/** The loads left, and when they will have been washed or what comes before that. */
function outlook(advice: Advice, estimates: readonly BathEstimate[]): string {
  const { loadsLeft: left, plan } = advice;
  if (!left) return '';
  const when = left.loads > 0 && plan ? whenText(advice, plan) : '';
  const meanwhile = when === '' ? '' : evaporating(left, plan!, estimates);
  return `; ${loadsLeftText(left, estimates)}${meanwhile}${when}`;
}

/** A count that differs by less is the same to whoever plans by it. */
const SAME_SHARE = 0.1;

/** The loads that the day is told of, where they are others than those just told: solvent evaporates until then. */
function evaporating(left: LoadsLeft, { limits }: Plan, estimates: readonly BathEstimate[]): string {
  const met = limits.flatMap((limit, place) =>
    limit ? [{ ...limit, bath: estimates[place]!.bath, because: limit.what }] : [],
  );
  const first = met.reduce((one, other) => (other.days < one.days ? other : one));
  const loads = Math.floor(first.loads);
  if (first.bath !== left.bath || first.because !== left.because)
    return `; with what evaporates meanwhile ${limitOf(first, estimates)} first, after about ${roundedLoads(loads)}`;
  return Math.abs(loads - left.loads) <= Math.max(1, SAME_SHARE * left.loads)
    ? ''
    : `; about ${roundedLoads(loads)} with what evaporates meanwhile`;
}

/** A weekday within the week ahead, days further off; what days off have to do with it. */
function whenText(advice: Advice, { on, rest, days }: Plan): string {
  if (!on || days === null) return '';
  const { midnights, weekday } = on;
  if (midnights > 6) return `, in about ${count(Math.round(days), 'day')}`;
  const day = midnights === 0 ? 'today' : midnights === 1 ? 'tomorrow' : `about ${WEEKDAYS[weekday]}`;
  const near = advice.when === 'soon' && rest !== null && rest.startsIn <= 1;
  return `, ${day}${near ? offText(advice, rest) : ''}`;
}

/** The loads that come before the days off, where they decide. */
function offText({ loadsLeft, afterRest }: Advice, rest: Rest): string {
  const many = Math.round(rest.loadsBefore);
  const come = many === 1 ? 'comes' : 'come';
  if (rest.startsIn === 0) return '';
  if (loadsLeft!.loads < rest.loadsBefore) return `, and ${many} usually ${come} before ${daysOff(rest)}`;
  if (!afterRest) return `, after ${daysOff(rest)}`;
  return many === 0
    ? `; none is usual before ${daysOff(rest)}`
    : `; only ${many} usually ${come} before ${daysOff(rest)}`;
}

/** Fresh solvent that stands through days off loses some of itself to the air before the first load. */
function afterDaysOff(action: string, rest: Rest): string {
  const day = WEEKDAYS[rest.back];
  return rest.startsIn === 0
    ? `${action} on ${day}, not on a day off`
    : `${action} on ${day}, not before ${daysOff(rest)}`;
}

function daysOff({ first, startsIn, endsIn }: Rest): string {
  const many = endsIn - startsIn;
  if (many === 2 && first === 6) return 'the weekend';
  return many === 1 ? `${WEEKDAYS[first]}, a day off` : 'the days off';
}

/** Both baths near their limits: which comes first, and that one rotation is enough. */
function bothNear(advice: Advice, estimates: readonly BathEstimate[]): string {
  const pair = estimates.filter(({ bath }) => bath === 'dirty' || bath === 'clean');
  if (pair.some(({ verdict }) => verdict === 'keep') || pair.length < 2) return '';
  const other = pair.find(({ bath }) => bath !== advice.bath)!;
  const { because, limits } = other;
  if (because === 'age' || because === 'none') return '';
  const amount = because === 'resin' ? other.resinWtPct!.p50 : other.waterWtPct!.p50;
  if (amount < (because === 'resin' ? limits.resin : limits.water)[0]) return '';
  const past = pair.every(({ verdict }) => isAtLeast(verdict, 'change'));
  if (past) return `; the ${other.bath} bath is past its limit too (${because}), and one rotation cures both`;
  const next = advice.plan?.limits[estimates.indexOf(other)];
  const loads = next ? `, in about ${count(Math.round(next.loads), 'load')}` : '';
  return `; the ${other.bath} bath comes next (${because}${loads}), and one rotation cures both`;
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

function loadsText(left: LoadsLeft): string {
  const [figure, ...band] = loadsFigure(left).split(' ');
  return [`about ${figure} more ${roundedLoads(left.loads) === 1 ? 'load' : 'loads'}`, ...band].join(' ');
}

/** How many, with the band where it is known: 84 (51–130). */
export function loadsFigure({ loads, p05, p95 }: LoadsLeft): string {
  const likely = String(roundedLoads(loads));
  return p05 === undefined || p95 === undefined
    ? likely
    : `${likely} (${roundedLoads(p05)}–${roundedLoads(p95)})`;
}

/** From 100 on to the nearest ten: the count is no better than a factor of two. */
function roundedLoads(loads: number): number {
  return loads < 100 ? loads : Math.round(loads / 10) * 10;
}

function limitOf(left: Pick<LoadsLeft, 'bath' | 'because'>, estimates: readonly BathEstimate[]): string {
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
