/**
 * What a shop does now, read from its ledger: the loads it washed lately, each key that a habit may change written out.
 */
import { soakMinutes } from '../bath/load.ts';
import type { Replay } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import type { WashEvent } from '../ledger/event.ts';
import type { Header } from '../ledger/header.ts';
import { washesAlike } from '../outlook/mean-load.ts';
import type { Practice } from './habits.ts';

/**
 * The recent washes that went the usual way, rotating at the limits of the ledger.
 *
 * @returns null when there was no wash, or nothing was poured from stock
 */
export function practiceOf(header: Header, shop: Shop, replayed: Replay): Practice | null {
  const alike = washesAlike(replayed);
  const last = alike.at(-1);
  if (!last || replayed.solvent === undefined) return null;
  const places = last.load.baths;
  const route = places.map((place) => shop.tubs[place]!.name);
  const washes = alike.map(({ entry }) => written(entry.event as WashEvent, shop, route));
  return { header, route, places, washes, solvent: replayed.solvent, rule: 'rotate', changeAt: 1 };
}

function written(wash: WashEvent, shop: Shop, route: string[]): WashEvent {
  const { defaults } = shop;
  return {
    ...wash,
    baths: route,
    minutes: [...soakMinutes(wash, shop)],
    resin: wash.resin ?? defaults.resin,
    drained_min: wash.drained_min ?? defaults.drainedMin,
    prerinse: wash.prerinse ?? defaults.prerinse,
    midrinse: wash.midrinse ?? defaults.midrinse,
    agitation: wash.agitation ?? defaults.agitation,
  };
}
