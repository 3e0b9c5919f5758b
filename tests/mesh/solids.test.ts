/** Solids whose volume and surface geometry books give. */
import { describe, expect, it } from 'vitest';
import { measureMesh } from '../../src/mesh/measure.ts';
import type { MeshMeasure } from '../../src/mesh/sum-up.ts';
import { tetrahedron, triangleArea } from '../../src/mesh/surface.ts';
import { binaryStl, box, type Facet, fileOf, moved, sphere, textStl, torus, turned } from './solids.ts';

async function measured(facets: readonly Facet[]): Promise<MeshMeasure> {
  const measure = await measureMesh(fileOf(binaryStl(facets)));
  if ('message' in measure) throw new Error(measure.message);
  return measure;
}

describe('the examples of the formulas', () => {
  it('hold', () => {
    expect(triangleArea(0, 0, 0, 3, 0, 0, 0, 4, 0)).toBe(6);
    expect(tetrahedron(1, 0, 0, 0, 1, 0, 0, 0, 1)).toBeCloseTo(1 / 6, 15);
  });
});

describe('a box', () => {
  it('of 10 x 20 x 30 mm is 6 mL and 22 cm², to the last digit', async () => {
    expect(await measured(box([1, 2, 3], [10, 20, 30]))).toMatchObject({
      format: 'binary STL',
      unit: 'millimeter',
      unitStated: false,
      triangles: 12,
      boxMm: [10, 20, 30],
      volumeMl: 6,
      areaCm2: 22,
      pieces: 1,
      voids: 0,
      openEdges: 0,
      turnedEdges: 0,
      insideOut: 0,
      looked: 'all',
    });
  });

  it('is the same far from nought', async () => {
    // 16384 + 30 is exact in the 24 bits of an STL file.
    const { volumeMl, areaCm2 } = await measured(box([16384, -16384, 8192], [10, 20, 30]));
    expect(volumeMl).toBe(6);
    expect(areaCm2).toBe(22);
  });

  it('is the same as text, with numbers of any form, and in pieces of any size', async () => {
    const facets = box([-5, 0.25, 3], [10, 20, 30]);
    const plain = textStl(facets);
    const texts = [
      plain,
      plain.replaceAll('\n', '\r\n'),
      plain.replaceAll('\n', '\r'),
      plain.replaceAll(/[ \n](?=vertex|facet|outer|end)/g, '\n\t  '),
      plain.toUpperCase(),
      `\ufeff${plain}`,
      `  \n\n${plain}\n\n`,
      plain.replace('solid part', 'solid facet outer loop 12'),
      plain.replace('endsolid part\n', 'endsolid'),
      textStl(facets, (value) => value.toExponential(7)),
      textStl(facets, (value) => value.toFixed(9)),
      plain.replaceAll('normal 0 0 0', 'normal nan -nan(ind) 1e'),
      textStl(facets.slice(0, 5)) + textStl(facets.slice(5)),
    ];
    for (const text of texts) {
      for (const piece of [1, 7, 64, 100_000]) {
        const measure = await measureMesh(fileOf(new TextEncoder().encode(text), piece));
        expect(measure).toMatchObject({ format: 'ASCII STL', volumeMl: 6, areaCm2: 22, remarks: [] });
      }
    }
  });

  it('is binary although its head begins with "solid"', async () => {
    const measure = await measureMesh(fileOf(binaryStl(box([0, 0, 0], [10, 20, 30]), 'solid facet normal')));
    expect(measure).toMatchObject({ format: 'binary STL', volumeMl: 6 });
  });

  it.each([
    ['inch', 25.4],
    ['centimeter', 10],
    ['meter', 1000],
    ['micron', 0.001],
    ['foot', 304.8],
  ] as const)('in %s is as much larger as that is', async (unit, mm) => {
    const measure = (await measureMesh(fileOf(binaryStl(box([0, 0, 0], [1, 2, 3]))), {
      unit,
    })) as MeshMeasure;
    expect(measure.volumeMl! / ((6 * mm ** 3) / 1000)).toBeCloseTo(1, 12);
    expect(measure.areaCm2 / ((22 * mm ** 2) / 100)).toBeCloseTo(1, 12);
    expect(measure.boxMm[2] / (3 * mm)).toBeCloseTo(1, 12);
  });
});

describe('round solids', () => {
  // A surface whose corners lie on the true one misses it by the square of its edges: half the edge, a quarter of the error.
  it.each([
    ['sphere', (n: number) => sphere(20, n), (4 / 3) * Math.PI * 20 ** 3, 4 * Math.PI * 20 ** 2],
    ['torus', (n: number) => torus(20, 5, n), 2 * Math.PI ** 2 * 20 * 5 ** 2, 4 * Math.PI ** 2 * 20 * 5],
  ] as const)(
    'a %s comes nearer to the true figures with the square of its edges',
    async (_, solid, mm3, mm2) => {
      const errors = [];
      for (const n of [40, 80, 160]) {
        const { volumeMl, areaCm2, openEdges, pieces } = await measured(solid(n));
        expect([openEdges, pieces]).toEqual([0, 1]);
        errors.push([1 - (1000 * volumeMl!) / mm3, 1 - (100 * areaCm2) / mm2]);
      }
      for (const [coarse, fine] of [errors.slice(0, 2), errors.slice(1)] as [number[], number[]][]) {
        expect(coarse[0]! / fine[0]!).toBeCloseTo(4, 1);
        expect(coarse[1]! / fine[1]!).toBeCloseTo(4, 1);
      }
      expect(Math.abs(errors.at(-1)![0]!)).toBeLessThan(1e-3);
      expect(errors.at(-1)![0]).toBeGreaterThan(0);
    },
  );
});

/**
 * A horseshoe of rectangular section along the parabola y = x²/p: by Steiner's formula for a band about a curve, which holds as long as the
 * band does not fold, its plan is width × length, and its two long sides together are 2 × length.
 */
function arch({ widthMm, heightMm, steps }: { widthMm: number; heightMm: number; steps: number }) {
  const [half, depth] = [26, 43];
  const at = (t: number, off: number): [number, number] => {
    const [x, y, dx, dy] = [half * t, depth * t * t, half, 2 * depth * t];
    const length = Math.hypot(dx, dy);
    return [x - (off * dy) / length, y + (off * dx) / length];
  };
  const corner = (step: number, side: number, up: number): [number, number, number] => [
    ...at(-1 + (2 * step) / steps, (side * widthMm) / 2),
    up * heightMm,
  ];
  const facets: Facet[] = [];
  const quad = (...[a, b, c, d]: [number, number, number][]) => facets.push([a!, b!, c!], [a!, c!, d!]);
  let lengthMm = 0;
  for (let k = 0; k < steps; k += 1) {
    const [from, to] = [at(-1 + (2 * k) / steps, 0), at(-1 + (2 * (k + 1)) / steps, 0)];
    lengthMm += Math.hypot(to[0] - from[0], to[1] - from[1]);
    quad(corner(k, -1, 1), corner(k + 1, -1, 1), corner(k + 1, 1, 1), corner(k, 1, 1));
    quad(corner(k, -1, 0), corner(k, 1, 0), corner(k + 1, 1, 0), corner(k + 1, -1, 0));
    quad(corner(k, -1, 0), corner(k + 1, -1, 0), corner(k + 1, -1, 1), corner(k, -1, 1));
    quad(corner(k, 1, 0), corner(k, 1, 1), corner(k + 1, 1, 1), corner(k + 1, 1, 0));
  }
  quad(corner(0, -1, 0), corner(0, -1, 1), corner(0, 1, 1), corner(0, 1, 0));
  quad(corner(steps, -1, 0), corner(steps, 1, 0), corner(steps, 1, 1), corner(steps, -1, 1));
  return { facets, lengthMm };
}

describe('a dental arch as a horseshoe about a parabola', () => {
  it.each([
    [11, 20],
    [12, 20],
    [14, 25],
  ])(
    '%i mm wide and %i mm high has the volume and surface of Steiner’s formula',
    async (widthMm, heightMm) => {
      const { facets, lengthMm } = arch({ widthMm, heightMm, steps: 2000 });
      const measure = await measured(facets);
      const volumeMm3 = widthMm * heightMm * lengthMm;
      const areaMm2 = 2 * widthMm * lengthMm + 2 * heightMm * lengthMm + 2 * widthMm * heightMm;
      expect((1000 * measure.volumeMl!) / volumeMm3).toBeCloseTo(1, 4);
      expect((100 * measure.areaCm2) / areaMm2).toBeCloseTo(1, 4);
      expect(measure).toMatchObject({ pieces: 1, openEdges: 0, insideOut: 0 });
      // Voxel models of full arches about a centreline of 108 mm: 21–48 mL, 67–108 cm² (data/SOURCES.md, DEFAULTS: derived).
      expect(lengthMm).toBeGreaterThan(100);
      expect(lengthMm).toBeLessThan(116);
      expect(measure.volumeMl).toBeGreaterThan(21);
      expect(measure.volumeMl).toBeLessThan(48);
      expect(measure.areaCm2).toBeGreaterThan(67);
      expect(measure.areaCm2).toBeLessThan(108);
    },
  );
});

describe('pieces and hollows', () => {
  const shell = [...sphere(15, 60), ...turned(sphere(12, 50))];

  it('a shut hollow is found, is no solid, and its wall is not seen by the bath', async () => {
    const [outer, inner, both] = [
      await measured(sphere(15, 60)),
      await measured(sphere(12, 50)),
      await measured(shell),
    ];
    expect(both).toMatchObject({ pieces: 1, voids: 1, insideOut: 0, looked: 'all' });
    expect(both.voidMl).toBeCloseTo(inner.volumeMl!, 9);
    expect(both.volumeMl).toBeCloseTo(outer.volumeMl! - inner.volumeMl!, 9);
    expect(both.areaCm2).toBeCloseTo(outer.areaCm2, 9);
  });

  it('the same turned inside out as a whole', async () => {
    const [right, wrong] = [await measured(shell), await measured(turned(shell))];
    const { insideOut, ...rest } = wrong;
    expect(insideOut).toBe(1);
    expect({ ...rest, insideOut: 0 }).toEqual(right);
  });

  it('several hollows in several parts of one file', async () => {
    const two = [...shell, ...moved(shell, [40, 5, 1]), ...moved(turned(sphere(12, 50)), [0, 100, 0])];
    const one = await measured(shell);
    const lone = await measured(sphere(12, 50));
    const all = await measured(two);
    // The last lies in nothing: a part that faces inwards, no hollow.
    expect(all).toMatchObject({ pieces: 3, voids: 2, insideOut: 1, crossing: 0, buried: 0 });
    expect(all.voidMl / (2 * one.voidMl)).toBeCloseTo(1, 4);
    expect(all.volumeMl! / (2 * one.volumeMl! + lone.volumeMl!)).toBeCloseTo(1, 4);
    expect(all.areaCm2 / (2 * one.areaCm2 + lone.areaCm2)).toBeCloseTo(1, 4);
  });

  it('a ball in a hollow is solid, takes its share of the resin, and does not see the bath', async () => {
    const [empty, ball] = [await measured(shell), await measured(sphere(5, 30))];
    const full = await measured([...shell, ...sphere(5, 30)]);
    expect(full).toMatchObject({ pieces: 1, voids: 1, buried: 0 });
    expect(full.volumeMl).toBeCloseTo(empty.volumeMl! + ball.volumeMl!, 9);
    expect(full.voidMl).toBeCloseTo(empty.voidMl - ball.volumeMl!, 9);
    expect(full.areaCm2).toBeCloseTo(empty.areaCm2, 9);
  });

  it('a piece within solid that faces the same way is not counted, and told', async () => {
    const outer = await measured(sphere(15, 60));
    const measure = await measured([...sphere(15, 60), ...box([-3, -3, -3], [6, 6, 6])]);
    expect(measure).toMatchObject({ pieces: 1, voids: 0, buried: 1, crossing: 0 });
    expect(measure.buriedMl).toBeCloseTo(0.216, 9);
    expect(measure.volumeMl).toBeCloseTo(outer.volumeMl!, 9);
    expect(measure.areaCm2).toBeCloseTo(outer.areaCm2, 9);
  });

  it('a hollow with a vent is no hollow: its wall is seen by the bath', async () => {
    // A cup: a box with a smaller one taken out of its top.
    const cup = cupOf(20, 2);
    const measure = await measured(cup);
    expect(measure).toMatchObject({ pieces: 1, voids: 0, openEdges: 0, insideOut: 0 });
    expect(measure.volumeMl).toBeCloseTo(8 - 0.016 * 0.016 * 0.018 * 1e6, 6);
    expect(measure.areaCm2).toBeCloseTo((6 * 400 + 4 * 16 * 18) / 100, 6);
  });

  it('pieces that run into one another are told, and count in full', async () => {
    const measure = await measured([...box([0, 0, 0], [20, 20, 20]), ...box([10, 10, 10], [20, 20, 20])]);
    expect(measure.crossing).toBeGreaterThan(0);
    expect(measure).toMatchObject({ pieces: 2, volumeMl: 16, areaCm2: 48 });
  });

  it('pieces that only touch, by a face or a part of it, are not told', async () => {
    const side = [...box([0, 0, 0], [20, 20, 20]), ...box([5, 5, 20], [3, 3, 9])];
    expect(await measured(side)).toMatchObject({ pieces: 2, crossing: 0, buried: 0, volumeMl: 8.081 });
    const beside = [...box([0, 0, 0], [20, 20, 20]), ...box([20, 2, 2], [5, 5, 5])];
    expect(await measured(beside)).toMatchObject({ pieces: 2, crossing: 0, buried: 0, volumeMl: 8.125 });
  });

  it('a file that holds its surface twice says so', async () => {
    const facets = sphere(15, 20);
    expect(await measured([...facets, ...facets])).toMatchObject({ doubled: true });
    expect(await measured(facets)).toMatchObject({ doubled: false });
  });

  it('rays that go through corners and edges are counted once', async () => {
    // All corners of both on whole millimetres, so that every ray meets edges of the other.
    for (const at of [-4, -2, 0, 2, 4]) {
      const grid = Array.from({ length: 5 }, (_, nth) => box([-10 + 4 * nth, at, -2], [2, 2, 2])).flat();
      const measure = await measured([...box([-20, -20, -20], [40, 40, 40]), ...turned(grid)]);
      expect(measure).toMatchObject({ pieces: 1, voids: 5, crossing: 0, buried: 0 });
      expect(measure.voidMl).toBeCloseTo(0.04, 9);
    }
  });
});

/** A cube with a square hole from its top down to a floor, all walls of one thickness. */
function cupOf(size: number, wall: number): Facet[] {
  const [outer, inner] = [
    box([0, 0, 0], [size, size, size]),
    box([wall, wall, wall], [size - 2 * wall, size - 2 * wall, size - wall]),
  ];
  const isTop = (facet: Facet) => facet.every(([, , z]) => z === size);
  const rim: Facet[] = [];
  const [a, b] = [wall, size - wall];
  const outside = [
    [0, 0],
    [size, 0],
    [size, size],
    [0, size],
  ] as const;
  const inside = [
    [a, a],
    [b, a],
    [b, b],
    [a, b],
  ] as const;
  for (let nth = 0; nth < 4; nth += 1) {
    const next = (nth + 1) % 4;
    const [p, q, r, s] = [outside[nth]!, outside[next]!, inside[next]!, inside[nth]!].map(
      ([x, y]) => [x, y, size] as const,
    ) as [
      readonly [number, number, number],
      readonly [number, number, number],
      readonly [number, number, number],
      readonly [number, number, number],
    ];
    rim.push([p, q, r], [p, r, s]);
  }
  return [
    ...outer.filter((facet) => !isTop(facet)),
    ...turned(inner.filter((facet) => !isTop(facet))),
    ...rim,
  ];
}

describe('surfaces that are not whole', () => {
  it('a large hole: the surface counts, the volume is not known', async () => {
    const measure = await measured(box([0, 0, 0], [10, 20, 30]).slice(2));
    expect(measure).toMatchObject({ openEdges: 4, turnedEdges: 0, areaCm2: 20 });
    expect(measure.volumeMl).toBeUndefined();
  });

  it('a small hole is closed flat', async () => {
    const facets = sphere(20, 80);
    const whole = await measured(facets);
    // Two triangles at the equator: the cap is as flat as they are, nearly.
    const holed = await measured(facets.filter((_, nth) => nth !== 6000 && nth !== 6001));
    expect(holed.openEdges).toBe(4);
    expect(holed.volumeMl! / whole.volumeMl!).toBeCloseTo(1, 5);
    expect(holed.areaCm2).toBeLessThan(whole.areaCm2);
  });

  it('a triangle that faces the wrong way is put right', async () => {
    const facets = sphere(20, 80);
    const whole = await measured(facets);
    const wrong = await measured(facets.map((facet, nth) => (nth === 6000 ? turned([facet])[0]! : facet)));
    expect(wrong).toMatchObject({ openEdges: 0, turnedEdges: 3 });
    expect(wrong.volumeMl).toBeCloseTo(whole.volumeMl!, 9);
    expect(wrong.areaCm2).toBeCloseTo(whole.areaCm2, 9);
  });

  it('half of it facing the wrong way: no volume', async () => {
    const facets = sphere(20, 40);
    const wrong = await measured([...facets.slice(0, 3000), ...turned(facets.slice(3000))]);
    expect(wrong.turnedEdges).toBeGreaterThan(50);
    expect(wrong.volumeMl).toBeUndefined();
  });

  it('triangles without a surface are counted, and harm nothing', async () => {
    const flat: Facet[] = [
      [
        [0, 0, 0],
        [0, 0, 0],
        [5, 5, 5],
      ],
      [
        [1, 1, 1],
        [1, 1, 1],
        [1, 1, 1],
      ],
    ];
    expect(await measured([...box([0, 0, 0], [10, 20, 30]), ...flat])).toMatchObject({
      flat: 2,
      volumeMl: 6,
      areaCm2: 22,
      openEdges: 0,
      pieces: 1,
    });
  });

  it('noughts of both signs are one place', async () => {
    const facets = box([0, 0, 0], [10, 20, 30]).map((facet, nth) =>
      nth % 2
        ? facet
        : (facet.map((corner) => corner.map((value) => (value === 0 ? -0 : value))) as unknown as Facet),
    );
    expect(await measured(facets)).toMatchObject({ openEdges: 0, volumeMl: 6 });
  });
});

describe('pieces without number', () => {
  it('are taken as one, and told', async () => {
    const many = Array.from({ length: 20_001 }, (_, nth) => {
      const corner = [nth % 200, Math.floor(nth / 200), 0] as const;
      return box(corner, [0.5, 0.5, 0.5]);
    }).flat();
    const measure = await measured(many);
    expect(measure).toMatchObject({ looked: 'pieces', openEdges: 0 });
    expect(measure.volumeMl).toBeCloseTo(20_001 * 0.000125, 9);
  });
});

describe('a file of more triangles than are indexed', () => {
  it('has the same sums, and says that no more was looked for', async () => {
    const file = fileOf(binaryStl(sphere(20, 40)));
    const [all, sums] = [await measureMesh(file), await measureMesh(file, { most: 1000 })] as [
      MeshMeasure,
      MeshMeasure,
    ];
    expect([all.looked, sums.looked]).toEqual(['all', 'sums']);
    expect(sums.volumeMl).toBeCloseTo(all.volumeMl!, 9);
    expect(sums.areaCm2).toBeCloseTo(all.areaCm2, 9);
    expect(sums.boxMm).toEqual(all.boxMm);
  });

  it('has no volume if its triangles do not close it', async () => {
    const open = (await measureMesh(fileOf(binaryStl(sphere(20, 40).slice(500))), {
      most: 1000,
    })) as MeshMeasure;
    expect(open.looked).toBe('sums');
    expect(open.volumeMl).toBeUndefined();
  });

  it('is found out in a file of text as well, which does not say how many there are', async () => {
    const text = new TextEncoder().encode(textStl(sphere(20, 40), (value) => value.toFixed(12)));
    const [all, sums] = [
      await measureMesh(fileOf(text)),
      await measureMesh(fileOf(text), { most: 3000 }),
    ] as [MeshMeasure, MeshMeasure];
    expect(sums.looked).toBe('sums');
    expect(sums.volumeMl).toBeCloseTo(all.volumeMl!, 9);
  });
});

describe('many pieces in one place, or corners that lie closer than single numbers tell', () => {
  // A table of corners that took them for one place would need the square of their number: hours.
  it('are measured as soon as any others', async () => {
    const near = sphere(1e-9, 60, [1, 1, 1]);
    const text = textStl([...near, ...box([0, 0, 0], [5, 5, 5])]);
    const measure = (await measureMesh(fileOf(new TextEncoder().encode(text)))) as MeshMeasure;
    expect(measure.triangles).toBe(near.length + 12);
  });
});
