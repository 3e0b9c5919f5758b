// Files of parts: STL of numbers and of text, and 3MF, sound and damaged: counts that lie, corners that are no place, objects that hold
// themselves, entities, paths that lead out, files that unpack to a thousand times their length.
import { strToU8, zipSync } from 'fflate';
import { oneOf, wholeBelow } from '../random.mjs';
import { damaged, damagedBytes } from './damage.mjs';
import { edgeNumber } from './words.mjs';

const chance = (random, share) => random() < share;

/** Bytes of a file of a part. */
export function drawMesh(random) {
  return oneOf(random, [binary, text, packed, packed])(random);
}

/** Triangles of a box between two corners, its faces in pairs. */
function boxOf(random) {
  const size = Array.from({ length: 3 }, () => 1 + wholeBelow(random, 40));
  const from = Array.from({ length: 3 }, () => wholeBelow(random, 60) - 30);
  const corner = (nth) => from.map((value, axis) => value + ((nth >> axis) & 1) * size[axis]);
  const corners = Array.from({ length: 8 }, (_, nth) => corner(nth));
  const faces = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ];
  const triangles = faces.flatMap(([a, b, c, d]) => [
    [a, b, c],
    [a, c, d],
  ]);
  const kept = triangles.filter(() => !chance(random, 0.03));
  return { corners, triangles: chance(random, 0.1) ? kept.map((one) => one.toReversed()) : kept };
}

const boxesOf = (random) => Array.from({ length: 1 + wholeBelow(random, 4) }, () => boxOf(random));

const ODD_FLOATS = [Number.NaN, Number.POSITIVE_INFINITY, -1e38, 1e8, 9.9e7, 1e-40, -0, 1e30];

function binary(random) {
  const triangles = boxesOf(random).flatMap((box) =>
    box.triangles.map((one) => one.map((at) => box.corners[at])),
  );
  const bytes = Buffer.alloc(84 + 50 * triangles.length);
  bytes.write(oneOf(random, ['', 'solid box', 'binary of nobody', '\u001b[2J']), 0, 'latin1');
  bytes.writeUInt32LE(
    oneOf(
      random,
      Array(12)
        .fill(triangles.length)
        .concat(0, 0xffffffff, triangles.length + 1),
    ),
    80,
  );
  for (const [nth, corners] of triangles.entries())
    for (const [at, value] of corners.flat().entries())
      bytes.writeFloatLE(
        chance(random, 0.001) ? oneOf(random, ODD_FLOATS) : value,
        84 + 50 * nth + 12 + 4 * at,
      );
  return chance(random, 0.3) ? damagedBytes(random, bytes) : bytes;
}

function text(random) {
  const facets = boxesOf(random).flatMap((box) =>
    box.triangles.map((one) => {
      const corners = one.map(
        (at) => `vertex ${box.corners[at].map((value) => numberOf(random, value)).join(' ')}`,
      );
      return `facet normal 0 0 0\nouter loop\n${corners.join('\n')}\nendloop\nendfacet\n`;
    }),
  );
  const name = oneOf(random, ['box', '', 'a b c', '\u001b]0;x\u0007', 'x'.repeat(500)]);
  return damaged(
    random,
    `solid ${name}\n${facets.join('')}endsolid ${name}\n`,
    () => 'facet\nsolid\nendloop\n',
  );
}

function numberOf(random, value) {
  if (chance(random, 0.002)) return edgeNumber(random);
  return oneOf(random, [String(value), value.toExponential(6), value.toFixed(3), `+${Math.abs(value)}`]);
}

/** A model, its parts and the zip file around them. */
function packed(random) {
  const model = modelOf(random);
  const wrong = chance(random, 0.5);
  const bytes = wrong ? damaged(random, model, () => model) : Buffer.from(model);
  const target = oneOf(random, [
    '/3D/3dmodel.model',
    '3D/3dmodel.model',
    '/../../etc/passwd',
    '/3d/3DMODEL.MODEL',
    '',
  ]);
  const relations = `<Relationships><Relationship Target="${target}" Id="rel0" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>`;
  const files = {
    '[Content_Types].xml': strToU8('<Types/>'),
    ...(chance(random, 0.9) ? { '_rels/.rels': strToU8(relations) } : {}),
    [oneOf(
      random,
      Array(9)
        .fill('3D/3dmodel.model')
        .concat('3D/../3D/3dmodel.model', '\\3D\\x.model', '3D/__proto__.model'),
    )]: bytes,
    ...(chance(random, 0.2) ? { '3D/other.model': strToU8(modelOf(random)) } : {}),
    ...(chance(random, 0.02) ? { '3D/zeros.bin': new Uint8Array(4_000_000) } : {}),
  };
  const zip = Buffer.from(zipSync(files, { level: oneOf(random, [0, 1]), mtime: new Date(2026, 1, 1) }));
  return chance(random, 0.3) ? damagedBytes(random, zip) : zip;
}

function modelOf(random) {
  const ids = Array.from({ length: 1 + wholeBelow(random, 4) }, (_, nth) => nth + 1);
  const objects = ids.map(
    (id) =>
      `<object id="${id}" type="model">${chance(random, 0.75) ? meshOf(random) : componentsOf(random, ids)}</object>`,
  );
  const items = ids.filter(() => chance(random, 0.7)).map((id) => `<item ${placing(random, id)}/>`);
  const entities = chance(random, 0.05)
    ? `<!DOCTYPE m [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "${'&a;'.repeat(20)}"><!ENTITY c SYSTEM "file:///etc/passwd">]>`
    : '';
  const unit = oneOf(random, ['millimeter', 'inch', 'micron', '', '__proto__', 'constructor']);
  const blanks = chance(random, 0.02) ? ' '.repeat(2_000_000) : '';
  return `<?xml version="1.0" encoding="UTF-8"?>\n${entities}<model unit="${unit}" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02"${blanks}>
<resources>${objects.join('\n')}</resources><build>${items.join('')}</build></model>`;
}

function meshOf(random) {
  const { corners, triangles } = boxOf(random);
  const vertices = corners.map(([x, y, z]) => `<vertex x="${numberOf(random, x)}" y="${y}" z="${z}"/>`);
  const faces = triangles.map(
    ([a, b, c]) => `<triangle v1="${chance(random, 0.002) ? edgeNumber(random) : a}" v2="${b}" v3="${c}"/>`,
  );
  const times = chance(random, 0.02) ? 500 : 1;
  return `<mesh><vertices>${vertices.join('\n')}</vertices><triangles>${faces.join('').repeat(times)}</triangles></mesh>`;
}

/** Of any object, itself among them. */
function componentsOf(random, ids) {
  const count = chance(random, 0.1) ? 300 : 1 + wholeBelow(random, 3);
  return `<components>${Array.from({ length: count }, () => `<component ${placing(random, oneOf(random, ids))}/>`).join('')}</components>`;
}

function placing(random, id) {
  const transform = oneOf(random, [
    '',
    '',
    ' transform="1 0 0 0 1 0 0 0 1 5 6 7"',
    ' transform="-1 0 0 0 1 0 0 0 1 0 0 0"',
    ' transform="0 0 0 0 0 0 0 0 0 0 0 0"',
    ' transform="1e200 0 0 0 1e200 0 0 0 1e200 0 0 0"',
    ' transform="1 2 3"',
  ]);
  const path = oneOf(random, ['', '', '', ' p:path="/3D/other.model"', ' p:path="/../secret"']);
  return `objectid="${chance(random, 0.03) ? 'constructor' : id}"${transform}${path}`;
}
