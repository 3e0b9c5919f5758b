// What it takes to measure a million triangles: processor time and memory beside those of a process that does nothing.
// npm run bench:mesh
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { strToU8, zipSync } from 'fflate';

const RUNS = 3;
const folder = mkdtempSync(join(tmpdir(), 'bathbook-mesh-'));
const program = join(folder, 'measure.cjs');
const root = fileURLToPath(new URL('../..', import.meta.url));

try {
  const built = { bundle: true, platform: 'node', format: 'cjs', logLevel: 'error' };
  await build({
    stdin: { contents: WORKER(), resolveDir: root, loader: 'ts' },
    outfile: program,
    ...built,
  });
  // The thread that reads long files of text lies beside the program.
  await build({
    entryPoints: [join(root, 'src/commands/mesh-text-worker.ts')],
    outfile: join(folder, 'mesh-text-worker.js'),
    ...built,
  });
  const empty = best(join(folder, 'none'));
  console.log(`process that measures nothing: ${empty.ms} ms, ${empty.mb} MB`);
  console.log(
    'file'.padEnd(34),
    'MB'.padStart(6),
    'triangles'.padStart(10),
    'ms'.padStart(7),
    'memory MB'.padStart(10),
    ' looked',
  );
  for (const [name, write] of Object.entries(FILES())) {
    const path = join(folder, 'part');
    writeFileSync(path, write());
    const { ms, wall, mb, triangles, looked } = best(path);
    const size = (statSync(path).size / 1e6).toFixed(0);
    console.log(
      name.padEnd(34),
      size.padStart(6),
      String(triangles).padStart(10),
      String(ms - empty.ms).padStart(7),
      String(mb - empty.mb).padStart(10),
      ` ${looked}; ${wall} ms by the clock`,
    );
  }
} finally {
  rmSync(folder, { recursive: true });
}

/** The least of a few runs: what else the machine does only adds. */
function best(path) {
  const runs = Array.from({ length: RUNS }, () =>
    JSON.parse(execFileSync(process.execPath, [program, path], { encoding: 'utf8' })),
  );
  return runs.reduce((least, run) => (run.wall < least.wall ? run : least));
}

function WORKER() {
  return `
    import { readFileSync } from 'node:fs';
    import { measureFile } from './src/commands/mesh-file.ts';
    const begun = performance.now();
    measureFile(process.argv[2], 'millimeter').then((told) => {
      const wall = Math.round(performance.now() - begun);
      const { user, system } = process.cpuUsage();
      const { triangles, looked } = 'measure' in told ? told.measure : {};
      // What the system tells of a child it counts from the parent's memory on; Linux has the child's own beside it.
      const most = process.platform === 'linux' ? Number(/VmHWM:\\s+(\\d+)/.exec(readFileSync('/proc/self/status', 'utf8'))[1]) : process.resourceUsage().maxRSS;
      console.log(JSON.stringify({ ms: Math.round((user + system) / 1000), wall, mb: Math.round(most / 1024), triangles, looked }));
    });`;
}

function FILES() {
  return {
    'ball, binary STL': () => binary(ball(20, 500)),
    'ball with a shut hollow': () => binary([...ball(20, 355), ...ball(18, 355, { turned: true })]),
    'ball on 2000 supports': () => binary([...ball(20, 400), ...supports(2000)]),
    'triangles that share nothing': () => binary(apart(1_000_000)),
    'ball, STL of text, 7 digits': () => text(ball(20, 500)),
    'ball, 3MF': () => threeMf(20, 500),
    'ball of 4 million, binary STL': () => binary(ball(20, 1000)),
  };
}

function corner(radius, n, ring, turn, at) {
  const [up, round] = [(Math.PI * ring) / n, (Math.PI * (turn % (2 * n))) / n];
  const across = ring === 0 || ring === n ? 0 : radius * Math.sin(up);
  return [at[0] + across * Math.cos(round), at[1] + across * Math.sin(round), at[2] - radius * Math.cos(up)];
}

/** 4 n (n - 1) triangles. */
function* ball(radius, n, { turned = false, at = [0, 0, 0] } = {}) {
  for (let ring = 0; ring < n; ring += 1) {
    for (let turn = 0; turn < 2 * n; turn += 1) {
      const [a, b, c, d] = [
        [ring, turn],
        [ring, turn + 1],
        [ring + 1, turn + 1],
        [ring + 1, turn],
      ].map(([r, t]) => corner(radius, n, r, t, at));
      if (ring > 0) yield turned ? [a, c, b] : [a, b, c];
      if (ring < n - 1) yield turned ? [a, d, c] : [a, c, d];
    }
  }
}

function* supports(count) {
  for (let nth = 0; nth < count; nth += 1) {
    yield* ball(0.3, 10, {
      at: [((nth % 50) - 25) * 0.75, (Math.floor(nth / 50) - 20) * 0.75, -21 + (nth % 7)],
    });
  }
}

function* apart(count) {
  for (let nth = 0; nth < count; nth += 1) {
    const [x, y] = [nth % 1000, Math.floor(nth / 1000)];
    yield [
      [x / 10, y / 10, 0],
      [x / 10 + 0.09, y / 10, 0],
      [x / 10, y / 10 + 0.09, 1],
    ];
  }
}

function binary(facets) {
  let bytes = Buffer.alloc(84 + 50 * 1_000_000);
  let count = 0;
  for (const facet of facets) {
    const at = 84 + 50 * count;
    if (at + 50 > bytes.length) bytes = Buffer.concat([bytes, Buffer.alloc(bytes.length)]);
    for (let nth = 0; nth < 9; nth += 1)
      bytes.writeFloatLE(facet[Math.floor(nth / 3)][nth % 3], at + 12 + 4 * nth);
    count += 1;
  }
  bytes.writeUInt32LE(count, 80);
  return bytes.subarray(0, 84 + 50 * count);
}

function text(facets) {
  const parts = ['solid ball\n'];
  for (const facet of facets) {
    const corners = facet
      .map((one) => `   vertex ${one.map((value) => value.toExponential(6)).join(' ')}\n`)
      .join('');
    parts.push(`facet normal 0 0 0\n  outer loop\n${corners}  endloop\nendfacet\n`);
  }
  return `${parts.join('')}endsolid ball\n`;
}

function threeMf(radius, n) {
  const parts = ['<model unit="millimeter"><resources><object id="1"><mesh><vertices>\n'];
  const place = (ring, turn) => (ring === 0 ? 0 : ring === n ? 1 : 2 + (ring - 1) * 2 * n + (turn % (2 * n)));
  const vertex = (ring, turn) => {
    const [x, y, z] = corner(radius, n, ring, turn, [0, 0, 0]).map((value) => value.toFixed(5));
    parts.push(`<vertex x="${x}" y="${y}" z="${z}"/>\n`);
  };
  vertex(0, 0);
  vertex(n, 0);
  for (let ring = 1; ring < n; ring += 1) for (let turn = 0; turn < 2 * n; turn += 1) vertex(ring, turn);
  parts.push('</vertices><triangles>\n');
  const triangle = (...corners) => {
    const [a, b, c] = corners.map(([ring, turn]) => place(ring, turn));
    parts.push(`<triangle v1="${a}" v2="${b}" v3="${c}"/>\n`);
  };
  for (let ring = 0; ring < n; ring += 1) {
    for (let turn = 0; turn < 2 * n; turn += 1) {
      if (ring > 0) triangle([ring, turn], [ring, turn + 1], [ring + 1, turn + 1]);
      if (ring < n - 1) triangle([ring, turn], [ring + 1, turn + 1], [ring + 1, turn]);
    }
  }
  parts.push('</triangles></mesh></object></resources><build><item objectid="1"/></build></model>');
  return zipSync({ '3D/3dmodel.model': strToU8(parts.join('')) });
}
