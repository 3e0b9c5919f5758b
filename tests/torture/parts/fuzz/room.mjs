// The program, called within a process: build-room.mjs.
import { runProgram } from '../../../../src/commands/program.ts';
import { UNPACKER } from '../../../../src/commands/unpacker.ts';
import { readRows } from '../../../../src/exchange/rows.ts';
import { checkLedger } from '../../../../src/ledger/check.ts';
import { measureMesh } from '../../../../src/mesh/measure.ts';
import { renderProblem } from '../../../../src/render/problem.ts';
import { readCalendar } from '../../../render/icalendar-rules.ts';
import { readOpenMetrics, readTextMetrics } from '../../../render/openmetrics-grammar.ts';
import { kept } from './documents-kept.mjs';
import { said } from './streams-kept.mjs';

/** Readers of what the program writes, which are not the program's. */
export const readers = { readCalendar, readOpenMetrics, readTextMetrics };

/** Reads a text and goes no further. */
export const read = {
  async ledger(bytes) {
    const { file, problems } = await checkLedger(bytes, {
      clockMs: Date.parse('2027-02-01T12:00:00Z'),
    });
    const lines = bytes.toString('latin1').split('\n').length;
    return { file, problems, lines, told: problems.map((problem) => renderProblem(problem, 'a.yaml')) };
  },
  mesh(bytes) {
    const pieces = [bytes.subarray(0, bytes.length >> 1), bytes.subarray(bytes.length >> 1)];
    return measureMesh({ sizeBytes: bytes.length, chunks: () => pieces, unpacker: UNPACKER });
  },
  async rows(bytes) {
    const text = bytes.toString();
    const { rows = [] } = await readRows(text);
    return { rows, lines: text.split(/\r\n|\n|\r/).length };
  },
};

/** Runs one command; a fault of the program is its exit code 70, as for anybody. */
export async function run(args, { isTTY = false } = {}) {
  Object.assign(said, { out: '', err: '', isTTY });
  kept.data = [];
  const began = process.cpuUsage();
  const code = await runProgram(args);
  const { user, system } = process.cpuUsage(began);
  return {
    args,
    code,
    out: said.out,
    err: said.err,
    data: kept.data,
    cpuMs: (user + system) / 1000,
    isTTY,
  };
}
