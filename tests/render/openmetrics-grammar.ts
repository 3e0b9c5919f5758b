/**
 * A strict reader of the OpenMetrics 1.0 text format, written from the ABNF and the rules of the specification (version 1.0,
 * "Text format" and "Metric types"), and one of the older text format 0.0.4.
 */

export interface Family {
  type: string;
  unit: string;
  help: string;
  samples: { name: string; labels: Record<string, string>; value: number }[];
}

const NAME = '[A-Za-z_:][A-Za-z0-9_:]*';
const LABEL = '[A-Za-z_][A-Za-z0-9_]*';
const ESCAPED = '(?:[^\\n"\\\\]|\\\\.)*';
const NUMBER = '[+-]?(?:\\d+(?:\\.\\d*)?|\\d*\\.\\d+)(?:[eE][+-]?\\d+)?|[+-]?[Ii]nf(?:inity)?|[Nn]a[Nn]';
const DESCRIPTOR = new RegExp(`^# (TYPE|UNIT|HELP) (${NAME}) (${ESCAPED})$`);
const SAMPLE = new RegExp(
  `^(${NAME})(?:\\{((?:${LABEL}="${ESCAPED}")?(?:,${LABEL}="${ESCAPED}")*)\\})? (${NUMBER})$`,
);
const TYPES = ['counter', 'gauge', 'histogram', 'gaugehistogram', 'stateset', 'info', 'summary', 'unknown'];

/** The families by name. @throws Error with the line that breaks a rule */
export function readOpenMetrics(text: string): Map<string, Family> {
  need(!text.includes('\r'), 'no carriage returns', text);
  need(!text.startsWith('\ufeff'), 'no byte order mark', text);
  need(text.endsWith('# EOF\n'), 'ends with EOF', text.slice(-20));
  const lines = text.slice(0, -'# EOF\n'.length).split('\n').slice(0, -1);
  const families = new Map<string, Family>();
  let open: string | undefined;
  for (const line of lines) {
    if (line.startsWith('#')) open = describe(line, open, families);
    else sample(line, open, families);
  }
  for (const [name, family] of families) whole(name, family);
  return families;
}

function describe(line: string, open: string | undefined, families: Map<string, Family>): string {
  const [, what, name, rest] = DESCRIPTOR.exec(line) ?? [];
  need(what !== undefined, 'a descriptor', line);
  const isNew = name !== open;
  need(!isNew || !families.has(name!), 'families are not interleaved', line);
  const family = families.get(name!) ?? { type: '', unit: '', help: '', samples: [] };
  families.set(name!, family);
  need(family.samples.length === 0, 'metadata before samples', line);
  const key = what!.toLowerCase() as 'type' | 'unit' | 'help';
  need(family[key] === '', 'one of each descriptor', line);
  if (key === 'type') need(TYPES.includes(rest!), 'a known type', line);
  if (key === 'unit') need(rest === '' || name!.endsWith(`_${rest}`), 'the unit ends the name', line);
  family[key] = unescaped(rest!);
  return name!;
}

const SUFFIX: Record<string, string> = {
  info: '_info',
  gauge: '',
  stateset: '',
  unknown: '',
  counter: '_total',
};

function sample(line: string, open: string | undefined, families: Map<string, Family>): void {
  const [, name, pairs = '', value] = SAMPLE.exec(line) ?? [];
  need(name !== undefined, 'a sample', line);
  need(open !== undefined, 'a sample after its metadata', line);
  const family = families.get(open!)!;
  need(name === `${open}${SUFFIX[family.type]}`, 'the name of the family, with the suffix of its type', line);
  const labels = labelsOf(pairs, line);
  const point = JSON.stringify(Object.entries(labels).sort());
  need(
    family.samples.every((one) => JSON.stringify(Object.entries(one.labels).sort()) !== point),
    'no sample twice',
    line,
  );
  family.samples.push({ name: name!, labels, value: Number(value!.replace(/inf/i, 'Infinity')) });
}

function labelsOf(pairs: string, line: string): Record<string, string> {
  const labels: Record<string, string> = {};
  for (const [, name, value] of pairs.matchAll(new RegExp(`(${LABEL})="(${ESCAPED})"`, 'g'))) {
    need(!(name! in labels), 'no label twice', line);
    labels[name!] = unescaped(value!);
  }
  return labels;
}

/** Rules of the types. */
function whole(name: string, { type, unit, samples }: Family): void {
  if (type === 'info' || type === 'stateset') need(unit === '', 'no unit', name);
  if (type === 'info')
    need(
      samples.every(({ value }) => value === 1),
      'info is 1',
      name,
    );
  if (type !== 'stateset') return;
  const sets = new Map<string, number>();
  for (const { labels, value } of samples) {
    need(name in labels, 'a label of the name of the state set', name);
    need(value === 0 || value === 1, 'states are 0 or 1', name);
    const { [name]: _, ...entity } = labels;
    const key = JSON.stringify(entity);
    sets.set(key, (sets.get(key) ?? 0) + value);
  }
  // An ENUM: exactly one state holds.
  for (const sum of sets.values()) need(sum === 1, 'one state holds', name);
}

function unescaped(text: string): string {
  return text.replaceAll(/\\(.)/g, (_, sign: string) => (sign === 'n' ? '\n' : sign));
}

function need(holds: boolean, rule: string, where: string): asserts holds {
  if (!holds) throw new Error(`${rule}: ${JSON.stringify(where)}`);
}

const OLD_TYPES = ['counter', 'gauge', 'histogram', 'summary', 'untyped'];

/** The older text format: HELP and TYPE only, its own types, no timestamps here. @throws Error */
export function readTextMetrics(text: string): Map<string, string> {
  const types = new Map<string, string>();
  const values = new Map<string, string>();
  for (const line of text.split('\n').slice(0, -1)) {
    const [, what, name, rest] = /^# (TYPE|HELP) (\S+) (.*)$/.exec(line) ?? [];
    if (what === 'TYPE') {
      need(OLD_TYPES.includes(rest!) && !types.has(name!), 'a known type, once', line);
      types.set(name!, rest!);
    }
    if (what !== undefined) continue;
    const [, sampleName, pairs = '', value] = SAMPLE.exec(line) ?? [];
    need(sampleName !== undefined && types.has(sampleName), 'a sample of a typed family', line);
    values.set(`${sampleName}{${pairs}}`, value!);
  }
  need(text.endsWith('\n'), 'the last line ends', text.slice(-20));
  return values;
}
