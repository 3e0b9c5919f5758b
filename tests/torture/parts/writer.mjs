// A writer in a process of its own, which lasts until it is killed: writer.mjs ROOM LEDGER HOW [COUNT]
// Prints "+ID" for an event that is confirmed, "-ID" for one taken back, "!WHY" for what was refused.
import { pathToFileURL } from 'node:url';
import { HEAD } from './sample.mjs';

const [roomPath, ledger, how, count = '1'] = process.argv.slice(2);
const { append, create, cutLast, newId } = await import(pathToFileURL(roomPath).href);
const PATIENCE_MS = 20_000;

function say(text) {
  process.stdout.write(`${text}\n`);
}

function tell(problems, good) {
  if (problems.length === 0) for (const one of good) say(one);
  else say(`!${JSON.stringify(problems)}`);
}

async function add(many) {
  let ids = [];
  const decide = async (file) => {
    const taken = new Set(file.events.map(({ event }) => event.id));
    ids = Array.from({ length: many }, () => {
      const id = newId((one) => taken.has(one), Math.random);
      taken.add(id);
      return id;
    });
    const at = `${new Date().toISOString().slice(0, 19)}Z`;
    const note = 'é — 混合';
    return { events: ids.map((id) => ({ id, at, what: 'inspect', result: 'ok', by: 'T', note })) };
  };
  const { problems } = await append(ledger, decide, { command: 'writer', patienceMs: PATIENCE_MS });
  tell(
    problems,
    ids.map((id) => `+${id}`),
  );
}

async function undo() {
  let id = '';
  const decide = async (_, last) => {
    id = last.event.id;
    return last.event.what === 'fill' ? { refused: [{ code: 'keep' }] } : { cut: true };
  };
  const { problems } = await cutLast(ledger, decide, { command: 'writer', patienceMs: PATIENCE_MS });
  if (problems[0]?.code !== 'keep' && problems[0]?.code !== 'not-last-line') tell(problems, [`-${id}`]);
}

for (let nth = 0; nth < Number(count); nth += 1) {
  if (how === 'create') {
    const problem = create(ledger, HEAD, { makeFolder: true });
    tell(problem ? [problem] : [], ['+made']);
  } else if (how === 'undo' || (how === 'loop' && nth % 10 === 9)) await undo();
  else await add(how === 'many' || nth % 7 === 6 ? 3 : 1);
}
