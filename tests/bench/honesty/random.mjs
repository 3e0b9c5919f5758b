// Random numbers that are the same on every machine: sfc32 seeded by splitmix32, normals by Box and Muller.

/** A generator of uniform, normal and chosen numbers. */
export class Random {
  /** @param {...number} seeds */
  constructor(...seeds) {
    let state = 0x9e3779b9;
    for (const seed of seeds) state = Math.imul(state ^ (seed >>> 0), 0x85ebca6b) + 0x6d2b79f5;
    const next = () => {
      state = (state + 0x9e3779b9) | 0;
      let mixed = Math.imul(state ^ (state >>> 16), 0x21f0aaad);
      mixed = Math.imul(mixed ^ (mixed >>> 15), 0x735a2d97);
      return mixed ^ (mixed >>> 15);
    };
    this.a = next();
    this.b = next();
    this.c = next();
    this.counter = 1;
    for (let i = 0; i < 12; i++) this.uniform();
  }

  /** In (0, 1), never either end. */
  uniform() {
    const sum = (this.a + this.b + this.counter) | 0;
    this.counter = (this.counter + 1) | 0;
    this.a = this.b ^ (this.b >>> 9);
    this.b = (this.c + (this.c << 3)) | 0;
    this.c = ((this.c << 21) | (this.c >>> 11)) + sum;
    this.c |= 0;
    return ((sum >>> 0) + 0.5) / 4294967296;
  }

  /** Fills with independent standard normals. @param {Float64Array} out */
  normals(out) {
    for (let i = 0; i < out.length; i += 2) {
      const radius = Math.sqrt(-2 * Math.log(this.uniform()));
      const angle = 2 * Math.PI * this.uniform();
      out[i] = radius * Math.cos(angle);
      if (i + 1 < out.length) out[i + 1] = radius * Math.sin(angle);
    }
    return out;
  }

  normal() {
    return this.normals(new Float64Array(1))[0];
  }

  /** @param {number} low @param {number} high */
  between(low, high) {
    return low + (high - low) * this.uniform();
  }

  /** Whole number from low to high, both included. @param {number} low @param {number} high */
  whole(low, high) {
    return Math.floor(this.between(low, high + 1));
  }

  /** @param {number} probability */
  chance(probability) {
    return this.uniform() < probability;
  }

  /** @template T @param {readonly T[]} list @returns {T} */
  pick(list) {
    return list[Math.floor(this.uniform() * list.length)];
  }

  /** One of the keys, as often as its weight says. @template {string} K @param {Record<K, number>} weights @returns {K} */
  weighted(weights) {
    const entries = /** @type {[K, number][]} */ (Object.entries(weights));
    let left = this.uniform() * entries.reduce((sum, [, weight]) => sum + weight, 0);
    for (const [key, weight] of entries) {
      left -= weight;
      if (left <= 0) return key;
    }
    return entries[entries.length - 1][0];
  }

  /** @template T @param {readonly T[]} list @returns {T[]} */
  shuffled(list) {
    const out = [...list];
    for (let i = out.length - 1; i > 0; i--) {
      const j = this.whole(0, i);
      [out[i], out[j]] = [out[j], out[i]];
    }
    return out;
  }
}
