/**
 * Metric families as text: OpenMetrics 1.0, and the older text format (0.0.4) that collectors of text files read, which knows
 * neither state sets nor units nor an end mark.
 */

export interface MetricFamily {
  /** With its unit at the end, where it has one. */
  name: string;
  type: 'gauge' | 'info' | 'stateset';
  unit?: string;
  help: string;
  samples: Sample[];
}

interface Sample {
  labels?: Readonly<Record<string, string>>;
  value: number;
}

/** A state set of one thing: one of the states holds. */
export function stateSamples(
  name: string,
  states: readonly string[],
  on: { is: string; labels: Readonly<Record<string, string>> },
): Sample[] {
  return states.map((state) => ({ labels: { ...on.labels, [name]: state }, value: state === on.is ? 1 : 0 }));
}

/** Families without samples are left out. */
export function openMetrics(families: readonly MetricFamily[]): string {
  const lines = families.filter(hasSamples).flatMap((family) => {
    const { name, type, unit, help } = family;
    return [
      `# TYPE ${name} ${type}`,
      ...(unit === undefined ? [] : [`# UNIT ${name} ${unit}`]),
      `# HELP ${name} ${escaped(help)}`,
      ...sampleLines(family),
    ];
  });
  return `${[...lines, '# EOF'].join('\n')}\n`;
}

/** The same in the text format 0.0.4: what it has no type for are gauges. */
export function textMetrics(families: readonly MetricFamily[]): string {
  const lines = families
    .filter(hasSamples)
    .flatMap((family) => [
      `# HELP ${sampleName(family)} ${family.help.replaceAll('\\', '\\\\').replaceAll('\n', '\\n')}`,
      `# TYPE ${sampleName(family)} gauge`,
      ...sampleLines(family),
    ]);
  return `${lines.join('\n')}\n`;
}

function hasSamples({ samples }: MetricFamily): boolean {
  return samples.length > 0;
}

function sampleName({ name, type }: MetricFamily): string {
  return type === 'info' ? `${name}_info` : name;
}

function sampleLines(family: MetricFamily): string[] {
  return family.samples.map(({ labels = {}, value }) => {
    const pairs = Object.entries(labels).map(([name, text]) => `${name}="${escaped(text)}"`);
    return `${sampleName(family)}${pairs.length > 0 ? `{${pairs.join(',')}}` : ''} ${number(value)}`;
  });
}

/** Whole numbers have no point, others a point or an exponent: as JavaScript writes them. */
function number(value: number): string {
  return Object.is(value, -0) ? '0' : String(value).replace('Infinity', 'Inf');
}

function escaped(text: string): string {
  return text.replaceAll('\\', '\\\\').replaceAll('"', '\\"').replaceAll('\n', '\\n').replaceAll('\r', '');
}
