/** Every inspection beside its wash: the baths as the parts left them, from one replay. */
import { soakMinutes } from '../bath/load.ts';
import type { Step } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import type { Belief } from '../belief/belief.ts';
import { believe } from '../belief/believe.ts';
import type { Entry, InspectEvent, WashEvent } from '../ledger/event.ts';
import { bandsOf } from '../outlook/estimate.ts';
import { lastWashOf } from '../outlook/factors-band.ts';
import type { Look, WashSeen } from '../records/inspections.ts';

/** Looks and their washes, from a replay that it watches. A wash that the replay refuses is as good as none. */
export class LooksKept {
  private readonly shop: Shop;
  private readonly wanted: readonly Entry[];
  private readonly ids: ReadonlySet<string>;
  private readonly seen = new Map<string, WashSeen>();

  /**
   * @param wanted - inspections
   * @param most - of the last so many the washes are looked at, which takes a millisecond or two each
   */
  constructor(shop: Shop, wanted: readonly Entry[], most = wanted.length) {
    this.shop = shop;
    this.wanted = wanted;
    this.ids = new Set(
      wanted
        .slice(Math.max(0, wanted.length - most))
        .flatMap(({ event }) => (event as InspectEvent).wash ?? []),
    );
  }

  /** Whether any of them names a wash. */
  get asks(): boolean {
    return this.ids.size > 0;
  }

  /** To be handed to a replay. */
  watch(step: Step, belief: Belief): void {
    const { id } = step.entry.event;
    if (step.wash && this.ids.has(id)) this.seen.set(id, washSeen(step, belief, this.shop));
  }

  looks(): Look[] {
    return this.wanted.map(({ event, atMs }) => {
      const look = event as InspectEvent;
      return { event: look, atMs, wash: this.seen.get(look.wash ?? '') ?? null };
    });
  }
}

/**
 * All looks among the entries, in their order.
 *
 * @param entries - in order, corrections applied, none after the clock
 * @param only - the id of the one inspection that is wanted
 */
export function looksOf(shop: Shop, entries: readonly Entry[], clockMs: number, only?: string): Look[] {
  const wanted = entries.filter(({ event }) => event.what === 'inspect' && (only ?? event.id) === event.id);
  const kept = new LooksKept(shop, wanted);
  if (kept.asks) believe(shop, entries, clockMs, { watch: (step, belief) => kept.watch(step, belief) });
  return kept.looks();
}

function washSeen({ entry, baths, load, wash }: Step, { ensemble }: Belief, shop: Shop): WashSeen {
  const event = entry.event as WashEvent;
  const place = load!.baths.at(-1)!;
  const tub = shop.tubs[place]!;
  const then = ensemble.at(entry.atMs);
  const { resinWtPct, waterWtPct } = bandsOf(shop, baths[place]!, place, then);
  const recent = [{ entry, load: load!, outcome: wash! }];
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
    residueUgPerCm2: lastWashOf({ recent }, then)!.residueUgPerCm2,
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
