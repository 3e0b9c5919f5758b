// The kinds of input that are drawn. One more (say, of meshes) is one more entry: the name of the file that is damaged, the files,
// and the commands to run on them, each named so that the laws know what to hold it against.
import { oneOf, wholeBelow } from '../random.mjs';
import { damaged } from './damage.mjs';
import { drawImport } from './draw-import.mjs';
import { drawLedger } from './draw-ledger.mjs';
import { drawMesh } from './draw-mesh.mjs';

const LEDGER = 'bathbook.yaml';
const CLOCKS = ['2026-09-03T12:00:00-03:00', '2026-10-01T12:00:00-03:00', '2027-02-01T12:00:00-04:00'];

/** Long before and long after everything; the latter takes its time. */
const FAR_CLOCKS = ['2000-01-01T00:00:00Z', '2199-12-31T12:00:00Z'];

/** Commands that read a ledger. */
const READS = [
  ['baths'],
  ['baths', '--json'],
  ['baths', '--json'],
  ['baths', '--exit-code'],
  ['due'],
  ['due', '--json'],
  ['outlook'],
  ['outlook', '--json'],
  ['report', '--format', 'text'],
  ['report', '--format', 'markdown'],
  ['report', '--format', 'html'],
  ['report', '--format', 'json'],
  ['entries'],
  ['entries', '--states', '--json'],
  ['export', 'csv'],
  ['export', 'csv', '--what', 'states', '--bands'],
  ['export', 'csv', '--what', 'washes'],
  ['export', 'ndjson'],
  ['export', 'html'],
  ['export', 'ics'],
  ['export', 'openmetrics'],
  ['export', 'prometheus'],
  ['stock'],
  ['stock', '--json'],
  ['waste'],
  ['waste', '--json'],
  ['vapour'],
  ['vapour', '--json'],
  ['inspect'],
  ['inspect', '--json'],
  ['calibrate'],
  ['calibrate', '--json'],
  ['cron'],
  ['cron', '--systemd'],
  ['check', '--strict'],
];

/** Commands that add to it. */
const WRITES = [
  ['wash', '2', 'model', '--json'],
  ['wash', '1', 'crown', '1', 'mask'],
  ['top-up', 'clean', '10 mL', 'ipa99', '--json'],
  ['drain', 'dirty', 'all'],
  ['rotate'],
  ['refill', 'clean'],
  ['fill', 'dirty', '4 L', 'ipa99'],
  ['reading', 'dirty', '--level', '3.9 L', '--json'],
  ['inspect', 'ok', '--note', '\u001b]0;x\u0007'],
  ['stock', 'received', 'ipa99', '1 L', '--json'],
  ['waste', 'opened', 'can 3'],
  ['void', 'fill-c', '--why', 'x'],
  ['amend', 'fill-d', 'note=x', '--why', 'x'],
  ['undo', '--json'],
];

/** Names that the file of a part may have. */
const PART_FILES = ['part.stl', 'part.3mf', 'a b.stl', 'a\u001b]0;x\u0007\u202e.3mf'];

const KINDS = {
  ledger: (random) => {
    const clock = ['--as-of', oneOf(random, random() < 0.02 ? FAR_CLOCKS : CLOCKS)];
    const on = ['--ledger', LEDGER, '--no-input'];
    const read = oneOf(random, READS);
    const look = random() < 0.15 ? ['--color', 'always'] : [];
    const runs = [
      ['check', '--json', ...on, ...clock],
      [...read, ...look, ...on, ...clock],
    ];
    if (random() < 0.15) runs.push([...oneOf(random, WRITES), ...on, ...clock]);
    return {
      subject: LEDGER,
      files: {
        [LEDGER]: damaged(random, drawLedger(random), () => drawLedger(random)),
      },
      runs,
    };
  },
  import: (random) => {
    const { name, text, options } = drawImport(random);
    const on = ['--ledger', LEDGER, '--no-input', '--json', '--as-of', '2027-02-01T12:00:00-04:00'];
    const again = [['import', name, ...options, ...on]];
    if (wholeBelow(random, 4) > 0) again.push(again[0], ['check', ...on]);
    else again[0] = [...again[0], '--dry-run'];
    return {
      subject: name,
      files: {
        [LEDGER]: Buffer.from(soundLedger(random)),
        [name]: damaged(random, text, () => drawImport(random).text),
      },
      runs: again,
    };
  },
  mesh: (random) => {
    const name = oneOf(random, PART_FILES);
    const on = ['--ledger', LEDGER, '--no-input', '--as-of', '2027-02-01T12:00:00-04:00'];
    const how = oneOf(random, [[], ['--json'], ['--dry-run'], ['--mesh-unit', 'inch'], ['2', 'model']]);
    return {
      subject: name,
      files: { [LEDGER]: Buffer.from(soundLedger(random)), [name]: drawMesh(random) },
      runs: [
        ['wash', '--mesh', ...oneOf(random, [[], ['3']]), name, ...how, ...on],
        ['check', ...on],
      ],
    };
  },
};

/** One that nothing is wrong with, to import into. */
function soundLedger(random) {
  const head = `format: bathbook/1\nshop:\n  name: Cobble Hill Bench\n  timezone: America/Halifax\nbaths:
  dirty: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50}
  clean: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50}
events:\n`;
  const fills = ['dirty', 'clean'].map(
    (bath) =>
      `  - {id: "f-${bath}", at: 2026-08-30T10:00:00-03:00, what: fill, bath: ${bath}, solvent: ipa99, ml: 4000}\n`,
  );
  return head + (random() < 0.7 ? fills.join('') : '');
}

/** A case: files by name, which of them was damaged, and what is run on them, one after the other. */
export function drawCase(random) {
  const at = random();
  return at < 0.65 ? KINDS.ledger(random) : at < 0.9 ? KINDS.import(random) : KINDS.mesh(random);
}
