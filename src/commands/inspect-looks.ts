/** Every inspection beside its wash: the baths as the parts left them, from one replay. */
import { soakMinutes } from '../bath/load.ts';
import type { Step } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import { emptyTally } from '../bath/tally.ts';
import type { Belief } from '../belief/belief.ts';
import { believe } from '../belief/believe.ts';
import type { Entry, InspectEvent, WashEvent } from '../ledger/event.ts';
import { bandsOf } from '../outlook/estimate.ts';
import { lastWashOf } from '../outlook/factors-band.ts';
import type { Look, WashSeen } from '../records/inspections.ts';

/**
 * All looks among the entries, in their order. A wash that the replay refuses is as good as none.
 *
 * @param entries - in order, corrections applied, none after the clock
 * @param only - the id of the one inspection that is wanted
 */
export function looksOf(shop: Shop, entries: readonly Entry[], clockMs: number, only?: string): Look[] {
  const looks = entries.filter(({ event }) => event.what === 'inspect' && (only ?? event.id) === event.id);
  const ids = new Set(looks.flatMap(({ event }) => (event as InspectEvent).wash ?? []));
  const seen = new Map<string, WashSeen>();
  const watch = (step: Step, belief: Belief) => {
    if (step.wash && ids.has(step.entry.event.id))
      seen.set(step.entry.event.id, washSeen(step, belief, shop));
  };
  if (ids.size > 0) believe(shop, entries, clockMs, { watch });
  return looks.map(({ event, atMs }) => {
    const look = event as InspectEvent;
    return { event: look, atMs, wash: seen.get(look.wash ?? '') ?? null };
  });
}

function washSeen({ entry, baths, load, wash }: Step, { ensemble }: Belief, shop: Shop): WashSeen {
  const event = entry.event as WashEvent;
  const place = load!.baths.at(-1)!;
  const tub = shop.tubs[place]!;
  const then = ensemble.at(entry.atMs);
  const { resinWtPct, waterWtPct } = bandsOf(shop, baths[place]!, place, then);
  const only = { entry, load: load!, outcome: wash! };
  const replayed = { baths: [], tally: emptyTally(), recent: [only], solvent: undefined, refused: [] };
  const parts = Object.keys(event.parts ?? {}).map((name) => shop.parts.get(name)!);
  const hollow = event.hollow === true || parts.some(({ shape }) => shape === 'hollow');
  return {
    id: event.id,
    atMs: entry.atMs,
    lastBath: tub.name,
    isUsualLast: place === shop.usualRoute.at(-1),
    limits: { resin: tub.limits.resin, water: tub.limits.water },
    resinWtPct,
    waterWtPct,
    residueUgPerCm2: lastWashOf(replayed, then)!.residueUgPerCm2,
    undissolvedShare: wash!.carryG > 0 ? wash!.undissolvedG / wash!.carryG : 0,
    soakMin: soakMinutes(event, shop),
    agitation: event.agitation ?? shop.defaults.agitation,
    drainedMin: event.drained_min ?? shop.defaults.drainedMin,
    drainedLogged: event.drained_min !== undefined,
    hollow,
    thin: parts.filter(({ thin }) => thin).map(({ name }) => name),
    dryMin: Math.max(hollow ? 60 : 30, ...parts.map(({ dryMin }) => dryMin)),
  };
}
