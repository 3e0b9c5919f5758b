import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type MetricFamily, openMetrics, stateSamples, textMetrics } from '../../src/render/openmetrics.ts';
import { hasPython, python } from '../exchange/python.ts';
import { readOpenMetrics, readTextMetrics } from './openmetrics-grammar.ts';

const label = fc.string({
  unit: fc.constantFrom('"', '\\', '\n', ' ', 'a', 'é', '{', '}', ',', '='),
  maxLength: 6,
});
const families = fc
  .uniqueArray(
    fc.record({
      stem: fc.stringMatching(/^[a-z][a-z_]{0,8}$/),
      unit: fc.constantFrom('grams', 'ratio'),
      help: label,
      samples: fc.uniqueArray(fc.record({ bath: label, value: fc.double({ noNaN: true }) }), {
        selector: ({ bath }) => bath,
        maxLength: 3,
      }),
    }),
    { selector: ({ stem }) => stem, maxLength: 4 },
  )
  .map((list) =>
    list.map(
      ({ stem, unit, help, samples }): MetricFamily => ({
        name: `${stem}_${unit}`,
        type: 'gauge',
        unit,
        help,
        samples: samples.map(({ bath, value }) => ({ labels: { bath }, value })),
      }),
    ),
  );

const SHOP: MetricFamily[] = [
  { name: 'b_build', type: 'info', help: 'x', samples: [{ labels: { version: '1' }, value: 1 }] },
  {
    name: 'b_verdict',
    type: 'stateset',
    help: 'x',
    samples: stateSamples('b_verdict', ['keep', 'stop'], { is: 'stop', labels: { bath: 'dirty' } }),
  },
  { name: 'b_mass_grams', type: 'gauge', unit: 'grams', help: 'A "b\\c"\nd', samples: [{ value: 2.5 }] },
  { name: 'b_none', type: 'gauge', help: 'x', samples: [] },
];

describe('metrics', () => {
  it('hold to the grammar, whatever the labels and numbers', () => {
    fc.assert(
      fc.property(families, (list) => {
        const read = readOpenMetrics(openMetrics(list));
        const full = list.filter(({ samples }) => samples.length > 0);
        expect([...read.keys()]).toEqual(full.map(({ name }) => name));
        for (const { name, samples, help } of full) {
          expect(read.get(name)!.help).toBe(help);
          expect(read.get(name)!.samples.map(({ labels, value }) => ({ labels, value: value + 0 }))).toEqual(
            samples.map(({ labels, value }) => ({ labels, value: value + 0 })),
          );
        }
        readTextMetrics(textMetrics(full.length > 0 ? full : SHOP));
      }),
    );
  });

  it('are info, state set and gauge; families without samples are left out', () => {
    const read = readOpenMetrics(openMetrics(SHOP));
    expect([...read].map(([name, { type, unit }]) => [name, type, unit])).toEqual([
      ['b_build', 'info', ''],
      ['b_verdict', 'stateset', ''],
      ['b_mass_grams', 'gauge', 'grams'],
    ]);
    expect(read.get('b_verdict')!.samples.map(({ value }) => value)).toEqual([0, 1]);
  });

  it('in the older format are gauges with the same values', () => {
    const text = textMetrics(SHOP);
    expect(text).not.toMatch(/EOF|UNIT|stateset|info$/m);
    expect(Object.fromEntries(readTextMetrics(text))).toEqual({
      'b_build_info{version="1"}': '1',
      'b_verdict{bath="dirty",b_verdict="keep"}': '0',
      'b_verdict{bath="dirty",b_verdict="stop"}': '1',
      'b_mass_grams{}': '2.5',
    });
  });

  const hasClient = hasPython && isImportable('prometheus_client.openmetrics.parser');
  it.skipIf(!hasClient)('are read by the reference parser', () => {
    const program =
      'import json, sys\nfrom prometheus_client.openmetrics.parser import text_string_to_metric_families as p\nprint(json.dumps([m.name for m in p(sys.stdin.read())]))';
    expect(python(program, openMetrics(SHOP))).toEqual(['b_build', 'b_verdict', 'b_mass_grams']);
  });
});

function isImportable(name: string): boolean {
  try {
    return (
      python(
        `import importlib.util as u\ntry:\n  print("true" if u.find_spec("${name}") else "false")\nexcept ImportError:\n  print("false")`,
        '',
      ) === true
    );
  } catch {
    return false;
  }
}

describe('the grammar of these tests', () => {
  // Wrong by the specification: examples of its "Text format" turned round.
  it.each([
    '# TYPE a gauge\na 1\n',
    '# TYPE a gauge\r\na 1\n# EOF\n',
    '# TYPE a_grams gauge\n# UNIT a_grams seconds\na_grams 1\n# EOF\n',
    '# TYPE a wheel\na 1\n# EOF\n',
    '# TYPE a info\na 1\n# EOF\n',
    '# TYPE a gauge\na{b="1",b="2"} 1\n# EOF\n',
    '# TYPE a gauge\na{b="1"} 1\na{b="1"} 1\n# EOF\n',
    '# TYPE a gauge\n# TYPE b gauge\na 1\n# EOF\n',
    '# TYPE a gauge\na one\n# EOF\n',
    '# TYPE a gauge\na{b="x"y"} 1\n# EOF\n',
    '# TYPE a stateset\na{a="x"} 1\na{a="y"} 1\n# EOF\n',
    '# TYPE a stateset\na{b="x"} 1\n# EOF\n',
    '\n# TYPE a gauge\na 1\n# EOF\n',
    '# TYPE a gauge\n# TYPE a gauge\na 1\n# EOF\n',
  ])('refuses %j', (text) => {
    expect(() => readOpenMetrics(text)).toThrow();
  });

  it('takes the example of the specification for a state set', () => {
    const text =
      '# TYPE foo stateset\nfoo{entity="controller",foo="a"} 1.0\nfoo{entity="controller",foo="bb"} 0.0\n# EOF\n';
    expect(readOpenMetrics(text).get('foo')!.samples).toHaveLength(2);
  });
});
