// Holds documents against the schemas that the program prints.
import { Ajv2020 } from 'ajv/dist/2020.js';
import addFormats from 'ajv-formats';

/** Gives what is wrong with the document of a run, or null. */
export async function schemas(room) {
  const ajv = new Ajv2020({ strict: false, allErrors: false });
  addFormats.default(ajv);
  const { out } = await room.run(['schema']);
  const printed = new Map();
  for (const name of out.trim().split('\n')) printed.set(name, (await room.run(['schema', name])).out);
  const checks = new Map();
  // Compiled where it is needed: all of them take seconds.
  const checkOf = (name) => {
    if (!checks.has(name)) checks.set(name, ajv.compile(JSON.parse(printed.get(name))));
    return checks.get(name);
  };
  return ({ args, out: text }) => {
    if (!args.includes('--json') && args.at(2) !== 'json') return null;
    if (!text.startsWith('{')) return null;
    const document = JSON.parse(text);
    const name = /^bathbook\/(.+)\/\d+$/.exec(document.schema)?.[1];
    if (!printed.has(name)) return `no schema for ${document.schema}`;
    const check = checkOf(name);
    if (check(document)) return null;
    const [{ instancePath, message }] = check.errors;
    return `${document.schema}: ${instancePath} ${message}`;
  };
}
