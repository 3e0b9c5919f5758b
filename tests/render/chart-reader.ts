/** Charts of a page read back: from the coordinates of its drawings to times and values, by the scales they carry as data. */
import { type DefaultTreeAdapterTypes, parse } from 'parse5';

type Node = DefaultTreeAdapterTypes.ChildNode;
type Element = DefaultTreeAdapterTypes.Element;

export interface Read {
  atMs: number;
  value: number;
}

export interface Chart {
  id: string;
  /** How much time and how much of the value one unit of the drawing stands for. */
  msPerUnit: number;
  valuePerUnit: number;
  /** Vertices of a curve, or the corners of an area, in the order in which they are drawn. */
  curve(name: string): Read[];
  /** Readings: their middle and the ends of their bars. */
  readings(): { id: string; atMs: number; value: number; low: number; high: number }[];
  limits(): { named: number; drawn: number }[];
}

export function chartsOf(html: string): Map<string, Chart> {
  const drawings = all(parse(html) as unknown as Element, (one) => attribute(one, 'data-x') !== undefined);
  return new Map(drawings.map(chartOf).map((chart) => [chart.id, chart]));
}

function chartOf(svg: Element): Chart {
  const numbers = (name: string) => attribute(svg, name)!.split(' ').map(Number);
  const [fromMs, toMs, left, right] = numbers('data-x') as [number, number, number, number];
  const [low, high, bottom, top] = numbers('data-y') as [number, number, number, number];
  const msPerUnit = (toMs - fromMs) / (right - left);
  const valuePerUnit = (high - low) / (bottom - top);
  const timeAt = (x: number) => fromMs + (x - left) * msPerUnit;
  const valueAt = (y: number) => low + (bottom - y) * valuePerUnit;
  const paths = all(svg, ({ tagName }) => tagName === 'path');
  return {
    id: attribute(svg, 'aria-labelledby')!
      .split(' ')[0]!
      .replace(/-title$/, ''),
    msPerUnit,
    valuePerUnit,
    curve: (name) =>
      paths
        .filter((path) => attribute(path, 'data-curve') === name)
        .flatMap((path) => [...attribute(path, 'd')!.matchAll(/[ML](-?[\d.]+),(-?[\d.]+)/g)])
        .map(([, x, y]) => ({ atMs: timeAt(Number(x)), value: valueAt(Number(y)) })),
    readings: () =>
      all(svg, (one) => one.tagName === 'circle' && attribute(one, 'data-reading') !== undefined).map(
        (circle) => {
          const id = attribute(circle, 'data-reading')!;
          const bar = paths.find((path) => attribute(path, 'data-reading') === id)!;
          const [, below, above] = /^M[\d.]+ (-?[\d.]+)V(-?[\d.]+)/.exec(attribute(bar, 'd')!)!;
          return {
            id,
            atMs: timeAt(Number(attribute(circle, 'cx'))),
            value: valueAt(Number(attribute(circle, 'cy'))),
            low: valueAt(Number(below)),
            high: valueAt(Number(above)),
          };
        },
      ),
    limits: () =>
      paths
        .filter((path) => attribute(path, 'data-limit') !== undefined)
        .map((path) => ({
          named: Number(attribute(path, 'data-limit')),
          drawn: valueAt(Number(/^M[\d.]+ (-?[\d.]+)H/.exec(attribute(path, 'd')!)![1])),
        })),
  };
}

export function attribute(element: Element, name: string): string | undefined {
  return element.attrs.find((one) => one.name === name)?.value;
}

/** All elements under a node that fit, in the order of the page. */
export function all(root: Element, fits: (element: Element) => boolean): Element[] {
  return (root.childNodes as Node[]).flatMap((node) => {
    if (!('tagName' in node)) return [];
    return [...(fits(node) ? [node] : []), ...all(node, fits)];
  });
}

/** The text under a node. */
export function textOf(node: Node): string {
  if ('value' in node) return node.value;
  return 'childNodes' in node ? (node.childNodes as Node[]).map(textOf).join('') : '';
}
