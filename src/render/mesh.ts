/** What was measured of files of parts: in a line each, in warnings, as a document. */
import type { MeshMeasure } from '../mesh/sum-up.ts';
import { type MeshUnit, MM_PER } from '../mesh/units.ts';
import type { Line } from './echo.ts';
import { count, trim } from './format.ts';

export interface MeasuredFile {
  /** As it was named. */
  path: string;
  count: number;
  measure: MeshMeasure;
}

/** `6 x arch.stl: 31.9 mL, 86.4 cm², 62 x 48 x 12 mm; binary STL, 51204 triangles`. */
export function meshLines(files: readonly MeasuredFile[]): Line[] {
  return files.map((file, nth) => [nth === 0 ? 'measured' : '', meshWords(file)]);
}

function meshWords({ path, count: times, measure }: MeasuredFile): string {
  const { volumeMl, areaCm2, boxMm, format, triangles, unit } = measure;
  const each = times > 1 ? `${times} x ` : '';
  const volume = volumeMl === undefined ? 'volume not known' : `${figures(volumeMl)} mL`;
  const box = boxMm.map((length) => trim(length, length < 10 ? 1 : 0)).join(' x ');
  const stated = unit === 'millimeter' ? '' : ` in ${UNIT_WORDS[unit]}`;
  return `${each}${path}: ${volume}, ${figures(areaCm2)} cm²${times > 1 ? ' each' : ''}, ${box} mm; ${format}${stated}, ${count(triangles, 'triangle')}`;
}

/** Three figures: a printer keeps no more. */
function figures(value: number): string {
  return String(Number(value.toPrecision(3)));
}

const UNIT_WORDS: Record<MeshUnit, string> = {
  micron: 'micrometres',
  millimeter: 'millimetres',
  centimeter: 'centimetres',
  inch: 'inches',
  foot: 'feet',
  meter: 'metres',
};

/** Parts are between a crown and the plate of a large printer, in mm; beyond, the unit is likely another. Common practice, no source. */
const USUAL_MM = { least: 4, most: 400 };
/** What a part that was measured in the wrong unit most likely is, mm. */
const LIKELY_MM = { least: 8, most: 250 };

export function longest({ boxMm }: MeshMeasure): number {
  return Math.max(...boxMm);
}

/** What is odd about a file, in sentences; nothing for a sound one. */
export function meshWarnings({ path, measure }: MeasuredFile): string[] {
  const name = `"${path}"`;
  return [
    ...unitWarning(name, measure),
    ...holeWarning(name, measure),
    ...shellWarnings(name, measure),
    ...measure.remarks.map((remark) => `${name}: ${remark.charAt(0).toLowerCase()}${remark.slice(1)}`),
  ];
}

/** What of a file whose unit nobody said looks like another one; none where it was said. */
export function unlikelyUnit({ path, measure }: MeasuredFile): string[] {
  return measure.unitStated ? [] : unitWarning(`"${path}"`, measure);
}

function unitWarning(name: string, measure: MeshMeasure): string[] {
  const mm = longest(measure);
  if (mm >= USUAL_MM.least && mm <= USUAL_MM.most) return [];
  const size = `${name} is ${lengthWords(mm)} at its longest`;
  if (measure.unitStated) return [`${size}, in the unit it states (${UNIT_WORDS[measure.unit]})`];
  const raw = mm / MM_PER[measure.unit];
  const likely = (['inch', 'centimeter', 'meter', 'micron', 'millimeter'] as const).filter((unit) => {
    const as = raw * MM_PER[unit];
    return unit !== measure.unit && as >= LIKELY_MM.least && as <= LIKELY_MM.most;
  });
  const instead = likely.map((unit) => `${UNIT_WORDS[unit]}: --mesh-unit ${OPTION_OF[unit]}`).join('; ');
  return [`${size}; an STL file does not say its unit${instead ? `. If these are ${instead}` : ''}`];
}

function lengthWords(mm: number): string {
  return mm >= 10_000 ? `${trim(mm / 1000, 0)} m` : `${figures(mm)} mm`;
}

/** Units as `--mesh-unit` takes them. */
export const UNIT_OPTIONS: Record<string, MeshUnit> = {
  mm: 'millimeter',
  cm: 'centimeter',
  m: 'meter',
  inch: 'inch',
  foot: 'foot',
  micron: 'micron',
};
const OPTION_OF = Object.fromEntries(
  Object.entries(UNIT_OPTIONS).map(([option, unit]) => [unit, option]),
) as Record<MeshUnit, string>;

function holeWarning(name: string, { openEdges, turnedEdges, volumeMl, doubled }: MeshMeasure): string[] {
  if (doubled) return [`${name} holds its surface more than once; volume and surface are too large`];
  if (openEdges + turnedEdges === 0) return [];
  const odd = [
    ...(openEdges > 0 ? [count(openEdges, 'open edge')] : []),
    ...(turnedEdges > 0 ? [`${count(turnedEdges, 'edge')} between triangles that face different ways`] : []),
  ].join(' and ');
  return volumeMl === undefined
    ? [`${name} does not enclose a volume (${odd}); its surface counts, its volume is not known`]
    : [`${name} has ${odd}; its volume is that with the holes closed flat`];
}

function shellWarnings(name: string, measure: MeshMeasure): string[] {
  const { insideOut, voids, voidMl, crossing, buried, buriedMl, looked, pieces } = measure;
  return [
    ...(insideOut > 0
      ? [`${name} faces inwards${insideOut < pieces ? ' in part' : ''}; it is taken as if it faced outwards`]
      : []),
    ...(voids > 0
      ? [
          `${name} has ${count(voids, 'hollow')} without an opening, ${figures(voidMl)} mL: the resin in ${voids === 1 ? 'it' : 'them'} counts as trapped. Drain and vent hollow prints; if ${voids === 1 ? 'it stays' : 'they stay'} shut in the wash: --trapped 0`,
        ]
      : []),
    ...(crossing > 0
      ? [
          `Pieces of ${name} run into one another; what they share counts twice, so volume and surface are high`,
        ]
      : []),
    ...(buried > 0
      ? [
          `${name} has ${count(buried, 'piece')} within solid, ${figures(buriedMl)} mL, not counted; if ${buried === 1 ? 'it is a hollow' : 'they are hollows'} exported inside out, the resin goes in --trapped`,
        ]
      : []),
    ...(looked === 'all' ? [] : [LOOKED[looked](name)]),
  ];
}

const LOOKED = {
  pieces: (name: string) =>
    `${name} has too many pieces to say which lies in which; shut hollows are not found`,
  sums: (name: string) =>
    `${name} has too many triangles to look for holes and shut hollows; only sums are taken`,
};

/** For the JSON document. */
export function meshDocument(file: MeasuredFile): Record<string, unknown> {
  const { path, count: times, measure } = file;
  return {
    file: path,
    count: times,
    format: measure.format,
    unit: measure.unit,
    unit_stated: measure.unitStated,
    triangles: measure.triangles,
    flat_triangles: measure.flat,
    box_mm: measure.boxMm,
    volume_ml: measure.volumeMl ?? null,
    area_cm2: measure.areaCm2,
    pieces: measure.pieces,
    voids: measure.voids,
    void_ml: measure.voidMl,
    open_edges: measure.openEdges,
    turned_edges: measure.turnedEdges,
    inside_out: measure.insideOut,
    crossing: measure.crossing,
    buried: measure.buried,
    buried_ml: measure.buriedMl,
    looked: measure.looked,
    warnings: meshWarnings(file),
  };
}
