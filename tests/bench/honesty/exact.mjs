// What Bayes' rule says of a simulated shop, by importance sampling on the simulator's own model. Draws of all rounds
// are kept in one pool and weighted against the mixture of everything they were drawn from (balance heuristic), so one
// pool serves every number of readings. Each fit looks at the posterior raised to a power low enough for the fit to
// stand on many draws; rounds follow until the effective number is reached or the budget is spent.
import { directionsOf, leaning } from './lean.mjs';
import { Simulation } from './model.mjs';
import { deviations } from './observe.mjs';
import { drawsFrom, factorCount } from './prior.mjs';
import { fitted, logFitted, logPrior, PRIOR_SHARE, shapeOf, spread } from './proposal.mjs';
import { Random } from './random.mjs';
import { eventsWith, percentages, READINGS } from './shops.mjs';
import { planOf } from './steps.mjs';
import { effective, logDensityAt, normalised, quantiles } from './weighted.mjs';

/**
 * @typedef {import('./shops.mjs').Shop} Shop
 * @typedef {import('./proposal.mjs').Columns} Columns
 * @typedef {import('./proposal.mjs').Proposal} Proposal
 * @typedef {{p05: number, p25: number, p50: number, p75: number, p95: number}} Band
 * @typedef {{q: Band, logDensity: (resinWtPct: number) => number, water: Band}} Belief of one bath
 * @typedef {{baths: Record<string, Belief>, ess: number, draws: number}} Exact
 * @typedef {{resin: Float64Array, water: Float64Array}} Share wt%
 * @typedef {{columns: Columns, logPrior: Float64Array, logs: Float64Array[], misfit: Float64Array[], shares: Share[], size: number}} Round one round of draws; logs: under each normal; misfit: half squared deviations of each reading
 */

const LEVELS = [0.05, 0.25, 0.5, 0.75, 0.95];
const ENOUGH = 500;
const ROUND = 2000;
const FIT_ON = 120;
/** Carry-over, and evaporation of each tub: what a resin reading and a weight fix once the rest is known. */
const CLOSING = [0, 3, 5];

/** @param {number[]} q @returns {Band} */
function bandOf([p05, p25, p50, p75, p95]) {
  return { p05, p25, p50, p75, p95 };
}

/** The pool of draws for one shop. */
class Pool {
  /** @param {Shop} shop @param {Random} random */
  constructor(shop, random) {
    this.random = random;
    this.order = shop.readings.map(({ id }) => id);
    this.plan = planOf(shop.header, eventsWith(shop, shop.readings.length), shop.clock);
    this.directions = directionsOf(this.plan.steps);
    const factors = factorCount(this.plan);
    this.dimensions = factors + this.directions.length;
    this.shape = shapeOf(this.dimensions, CLOSING, factors);
    /** @type {Proposal[]} */
    this.proposals = [];
    /** @type {Round[]} */
    this.rounds = [];
  }

  get size() {
    return this.rounds.reduce((sum, { size }) => sum + size, 0);
  }

  /** @param {number} size @param {Proposal} [proposal] none: all from the prior */
  draw(size, proposal) {
    const fresh = () => this.random.normals(new Float64Array(size));
    const columns = Array.from({ length: this.dimensions }, fresh);
    if (proposal) {
      spread(columns, proposal);
      this.proposals.push(proposal);
      for (const round of this.rounds) round.logs.push(logFitted(round.columns, proposal));
    }
    const logs = this.proposals.map((one) => logFitted(columns, one));
    this.rounds.push({ columns, logs, logPrior: logPrior(columns), size, ...this.simulate(columns, fresh) });
  }

  /** @param {Columns} columns @param {() => Float64Array} fresh */
  simulate(columns, fresh) {
    const scatter = leaning(this.directions, columns.slice(factorCount(this.plan)), fresh);
    const { tubs, looks } = new Simulation(this.plan, drawsFrom(this.plan, columns, scatter)).run();
    const misfit = this.order.map((id) => {
      const look = looks.find(({ event }) => event.id === id);
      if (!look) throw new Error(`Reading ${id} was not seen`);
      return deviations(look, this.plan.room).map((z) => 0.5 * z * z);
    });
    const shares = tubs.map((liquid) => {
      const all = liquid.resin.map((_, j) => percentages(liquid, j).resinWtPct);
      return { resin: all, water: liquid.resin.map((_, j) => percentages(liquid, j).waterWtPct) };
    });
    return { misfit, shares };
  }

  /** Log of prior over what the draws came from, pool by pool. */
  logBase() {
    const { size } = this;
    const fromFitted = this.rounds.slice(1).map((round) => ((1 - PRIOR_SHARE) * round.size) / size);
    const fromPrior = 1 - fromFitted.reduce((sum, one) => sum + one, 0);
    return this.joined((round) =>
      round.logPrior.map((log, j) => {
        let sum = fromPrior;
        for (let k = 0; k < fromFitted.length; k++)
          sum += fromFitted[k] * Math.exp(Math.min(round.logs[k][j] - log, 600));
        return -Math.log(sum);
      }),
    );
  }

  /** Log likelihood of the first few readings. @param {number} count */
  logLikelihood(count) {
    return this.joined((round) => {
      const out = new Float64Array(round.size);
      for (const misfit of round.misfit.slice(0, count))
        for (let j = 0; j < out.length; j++) out[j] -= misfit[j];
      return out;
    });
  }

  /** One array over all rounds. @param {(round: Round) => Float64Array} part */
  joined(part) {
    const out = new Float64Array(this.size);
    let from = 0;
    for (const round of this.rounds) {
      out.set(part(round), from);
      from += round.size;
    }
    return out;
  }

  /** A normal fitted to the posterior after some readings, or to a power of it. @param {number} count */
  fit(count) {
    const base = this.logBase();
    const likelihood = this.logLikelihood(count);
    const at = (/** @type {number} */ power) => normalised(base.map((one, j) => one + power * likelihood[j]));
    let power = 1;
    if (effective(at(1)) < FIT_ON) {
      let low = 0;
      for (let i = 0; i < 12; i++) {
        const middle = (low + power) / 2;
        if (effective(at(middle)) < FIT_ON) power = middle;
        else low = middle;
      }
      power = low;
    }
    const columns = Array.from({ length: this.dimensions }, (_, i) =>
      this.joined((round) => round.columns[i]),
    );
    return fitted(columns, at(power), this.shape);
  }

  /** @param {number} count */
  weights(count) {
    const likelihood = this.logLikelihood(count);
    return normalised(this.logBase().map((one, j) => one + likelihood[j]));
  }

  /** @param {number} count @returns {Exact} */
  exact(count) {
    const weights = this.weights(count);
    const baths = this.plan.tubs.map(({ name }, k) => {
      const resin = this.joined((round) => round.shares[k].resin);
      const water = this.joined((round) => round.shares[k].water);
      const logs = resin.map((one) => Math.log(Math.max(one, 1e-12)));
      return [
        name,
        {
          q: bandOf(quantiles(resin, weights, LEVELS)),
          water: bandOf(quantiles(water, weights, LEVELS)),
          logDensity: (/** @type {number} */ truth) => logDensityAt(logs, weights, Math.log(truth)),
        },
      ];
    });
    return { baths: Object.fromEntries(baths), ess: effective(weights), draws: this.size };
  }
}

/**
 * The posterior of a shop after each number of readings.
 * @param {Shop} shop
 * @param {{seed: number, draws: number, counts?: readonly number[]}} how draws: the most to make; seed: of the draws, not of the shop
 * @returns {Exact[]}
 */
export function exactPosteriors(shop, { seed, draws, counts = READINGS }) {
  const pool = new Pool(shop, new Random(seed, 2));
  pool.draw(Math.min(2 * ROUND, draws));
  for (const [i, count] of counts.entries()) {
    if (count === 0) continue;
    // Later counts keep their part of the budget.
    const budget = (draws * (i + 1)) / counts.length;
    while (effective(pool.weights(count)) < ENOUGH && pool.size + ROUND <= budget)
      pool.draw(ROUND, pool.fit(count));
  }
  return counts.map((count) => pool.exact(count));
}
