/**
 * The program's own answer for one shop: what it says is in the baths, as quantiles and as a density.
 */
import { figuresOf } from '../../../src/bath/figures.ts';
import { openShop } from '../../../src/bath/shop.ts';
import { resinMass } from '../../../src/bath/state.ts';
import { type Figure, quantileAt } from '../../../src/belief/band.ts';
import { Z75, Z95 } from '../../../src/belief/quantile.ts';
import type { Entry } from '../../../src/ledger/event.ts';
import type { Header } from '../../../src/ledger/header.ts';
import { type Status, statusOf } from '../../../src/outlook/status.ts';

interface Quantiles {
  p05: number;
  p25: number;
  p50: number;
  p75: number;
  p95: number;
}

interface Judged {
  /** Of the resin, wt%. */
  q: Quantiles;
  /** Of the water in the solvent, wt%. */
  water: Quantiles;
  /** Natural logarithm of the density of ln(resin wt%) at a value in wt%. */
  logDensity(resinWtPct: number): number;
}

/** @param events - as plain objects of the ledger, in order of time */
export function judge(header: unknown, events: readonly unknown[], clock: string): Record<string, Judged> {
  const shop = openShop(header as Header);
  const entries = events.map((event, place) => {
    const stamped = event as Entry['event'];
    return { event: stamped, atMs: Date.parse(stamped.at), line: place + 1, place };
  });
  const status = statusOf(shop, entries, Date.parse(clock));
  if (status.replayed.refused.length > 0)
    throw new Error(`Refused: ${JSON.stringify(status.replayed.refused[0])}`);
  return Object.fromEntries(shop.tubs.map((tub, place) => [tub.name, judgeBath(status, place)]));
}

function judgeBath({ shop, belief, estimates }: Status, place: number): Judged {
  const { ensemble } = belief;
  const baths = ensemble.worlds.map((world) => world.baths[place]!);
  const figures = baths.map((bath) => figuresOf(bath, shop.resins, shop.roomC));
  const grams = resinMass(baths[0]!);
  const share = figures[0]!.resinWtPct! / 100;
  const resin: Figure = {
    best: estimates[place]!.resinWtPct!.p50,
    values: figures.map(({ resinWtPct }) => resinWtPct!),
    scatterSd: grams > 0 ? (Math.sqrt(ensemble.scatter[place]![place]!) / grams) * (1 - share) : 0,
  };
  const water: Figure = {
    best: estimates[place]!.waterWtPct!.p50,
    values: figures.map(({ waterWtPct }) => waterWtPct!),
  };
  const at = (figure: Figure) => (z: number) => quantileAt(ensemble, figure, z);
  return {
    q: quantiles(at(resin)),
    water: quantiles(at(water)),
    logDensity: (resinWtPct) => logDensity(at(resin), resinWtPct),
  };
}

function quantiles(at: (z: number) => number): Quantiles {
  return { p05: at(-Z95), p25: at(-Z75), p50: at(0), p75: at(Z75), p95: at(Z95) };
}

/** With y = ln Q(z) for a standard normal z, the density of y is φ(z)/(dy/dz). */
function logDensity(at: (z: number) => number, value: number): number {
  let low = -8;
  let high = 8;
  for (let halving = 0; halving < 60; halving += 1) {
    const middle = (low + high) / 2;
    if (at(middle) < value) low = middle;
    else high = middle;
  }
  const z = (low + high) / 2;
  const steep = (Math.log(at(z + 0.01)) - Math.log(at(z - 0.01))) / 0.02;
  return -(z * z) / 2 - Math.log(2 * Math.PI) / 2 - Math.log(steep);
}
