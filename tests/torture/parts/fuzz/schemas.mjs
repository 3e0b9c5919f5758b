// Holds documents against the schemas that the program prints.
import { Ajv2020 } from 'ajv/dist/2020.js';
import addFormats from 'ajv-formats';

/** Gives what is wrong with the document of a run, or null. */
export async function schemas(room) {
  const ajv = new Ajv2020({ strict: false, allErrors: false });
  addFormats.default(ajv);
  const { out } = await room.run(['schema']);
  const checks = new Map();
  for (const name of out.trim().split('\n')) {
    const schema = JSON.parse((await room.run(['schema', name])).out);
    checks.set(name, ajv.compile(schema));
  }
  return ({ args, out: text }) => {
    if (!args.includes('--json') && args.at(2) !== 'json') return null;
    if (!text.startsWith('{')) return null;
    const document = JSON.parse(text);
    const name = /^bathbook\/(.+)\/\d+$/.exec(document.schema)?.[1];
    const check = checks.get(name);
    if (!check) return name === 'check' || checks.size === 0 ? null : `no schema for ${document.schema}`;
    if (check(document)) return null;
    const [{ instancePath, message }] = check.errors;
    return `${document.schema}: ${instancePath} ${message}`;
  };
}
