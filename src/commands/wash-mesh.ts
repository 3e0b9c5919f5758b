/** A load that is measured from the files its parts were printed from. */
import type { Shop } from '../bath/shop.ts';
import { isPlainKey } from '../ledger/plain-word.ts';
import type { Problem } from '../ledger/problem.ts';
import type { MeshUnit } from '../mesh/units.ts';
import type { Line } from '../render/echo.ts';
import {
  longest,
  type MeasuredFile,
  meshDocument,
  meshLines,
  meshWarnings,
  UNIT_OPTIONS,
  unlikelyUnit,
} from '../render/mesh.ts';
import { printable } from '../render/printable.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT, Fault, usage } from './fault.ts';
import { type FileMeasured, measureFile } from './mesh-file.ts';
import { type CountedFile, readMeshWords } from './mesh-words.ts';

/** No printer makes a part this long, mm. */
const TOO_LONG_MM = 10_000;

/** Reads and measures the files. @throws Fault for what was typed, and with every file that cannot be measured */
export async function measureLoad(args: readonly string[], options: Options): Promise<MeshLoad> {
  const files = filesOf(args, options);
  const name = options.asPart as string | undefined;
  if (name !== undefined) checkPartName(name, files);
  const unit = UNIT_OPTIONS[(options.meshUnit as string | undefined) ?? 'mm']!;
  return new MeshLoad(await measureAll(files, unit), options);
}

function filesOf(args: readonly string[], options: Options): CountedFile[] {
  if (options.volume !== undefined || options.area !== undefined) {
    throw usage('Cannot take both --mesh and --volume or --area', 'leave one of them out');
  }
  const words = options.mesh as string[];
  // `wash 6 --mesh arch.stl` says the same as `--mesh 6 arch.stl`.
  const isCount = args.length === 1 && words.length === 1 && /^\d+[x×]?$/i.test(args[0]!);
  if (args.length > 0 && !isCount) {
    throw usage(
      `Cannot take both named parts ("${args.join(' ')}") and --mesh`,
      'log them as two washes, or give the file a name first: --as-part',
    );
  }
  const read = readMeshWords([...args, ...words]);
  if (Array.isArray(read)) return read;
  throw usage(`Cannot read --mesh ${words.join(' ')}, ${read.message}`, read.help);
}

function checkPartName(name: string, files: readonly CountedFile[]): void {
  if (files.length > 1) throw usage('Cannot name several files with --as-part', 'give one file at a time');
  if (!isPlainKey(name) || name.length > 40) {
    throw usage(
      `Cannot use "${name}" for --as-part`,
      'a part is named with up to 40 letters, digits, "-" and "_", first a letter: arch-a',
    );
  }
}

async function measureAll(files: readonly CountedFile[], unit: MeshUnit): Promise<MeasuredFile[]> {
  const known = new Map<string, FileMeasured>();
  for (const { path } of files) if (!known.has(path)) known.set(path, await measureFile(path, unit));
  const wrong = [...known.values()].filter((one) => 'problem' in one);
  if (wrong.length > 0)
    throw new Fault(
      wrong.map(({ problem }) => problem),
      wrong[0]!.exit,
    );
  const measured = files.map((file) => ({
    ...file,
    measure: (known.get(file.path) as Extract<FileMeasured, { measure: unknown }>).measure,
  }));
  const long = measured.filter(({ measure }) => longest(measure) > TOO_LONG_MM);
  if (long.length > 0) throw new Fault(long.map(tooLong), EXIT.data);
  return measured;
}

function tooLong(file: MeasuredFile): Problem {
  return {
    code: 'cannot-measure',
    message: `Cannot use what is no part: ${meshWarnings(file)[0]}`,
    help: 'name the unit with --mesh-unit; a 3MF file states its own, so export it again',
    severity: 'error',
  };
}

export class MeshLoad {
  readonly warnings: string[];
  private readonly files: readonly MeasuredFile[];
  private readonly options: Options;

  constructor(files: readonly MeasuredFile[], options: Options) {
    this.files = files;
    this.options = options;
    this.warnings = files.flatMap(meshWarnings).map(printable);
  }

  /** Sizes that are no part's in the unit that was taken, where nobody named it: to be agreed to before they are logged. */
  get unlikely(): string[] {
    if (this.options.meshUnit !== undefined) return [];
    return [...new Set(this.files.flatMap(unlikelyUnit))].map(printable);
  }

  /** Keys of the event. A load of which one volume is not known has its surface alone. */
  size(shop: Shop): { volume_ml?: number; area_cm2: number; trapped_g?: number } {
    const sum = (value: (measure: MeasuredFile['measure']) => number) =>
      this.files.reduce((total, { count, measure }) => total + count * value(measure), 0);
    const volumeMl = sum(({ volumeMl: one }) => one ?? Number.NaN);
    const trappedG = sum(({ voidMl }) => voidMl) * this.resinDensity(shop);
    return {
      ...(volumeMl > 0 ? { volume_ml: figures(volumeMl) } : {}),
      area_cm2: figures(sum(({ areaCm2 }) => areaCm2)),
      ...(trappedG > 0 && this.options.carry === undefined ? { trapped_g: figures(trappedG) } : {}),
    };
  }

  /** g/mL at 20 °C; of a resin that is not known the command says so elsewhere. */
  private resinDensity(shop: Shop): number {
    const name = (this.options.resin as string | undefined) ?? shop.defaults.resin;
    const place = shop.resinPlace.get(name);
    return place === undefined ? 0 : shop.resins[place]!.density;
  }

  get lines(): Line[] {
    return meshLines(this.files).map(([label, text]) => [label, printable(text)]);
  }

  document(): Record<string, unknown> {
    const part = this.partLine();
    return { mesh: this.files.map(meshDocument), ...(part === undefined ? {} : { part_line: part }) };
  }

  /** The line that makes a part of the file; undefined where none was asked for. */
  private partLine(): string | undefined {
    const name = this.options.asPart as string | undefined;
    if (name === undefined) return undefined;
    const { volumeMl, areaCm2 } = this.files[0]!.measure;
    const volume = volumeMl === undefined ? '' : `volume_ml: ${figures(volumeMl)}, `;
    const shape = this.options.hollow === true ? 'hollow' : 'solid';
    return `  ${name}: {shape: ${shape}, ${volume}area_cm2: ${figures(areaCm2)}}`;
  }

  /** How to keep the file as a part: the program adds to a ledger and rewrites nothing in it, so the head is the user's. */
  tellPart(context: Context, path: string, shop: Shop): void {
    const line = this.partLine();
    if (line === undefined || context.json) return;
    const name = this.options.asPart as string;
    const there = shop.parts.has(name)
      ? ` It takes the place of the part ${name} that there is already; if that has a line there, take it out.`
      : '';
    context.note(
      `To keep it as a part, put the next line under "parts:" in the head of ${path}, before "events:".${there} If there is no "parts:" yet, write that first, on a line of its own. Then: bathbook wash 6 ${name}`,
    );
    context.print(line);
  }
}

/** Five: finer than any printer, free of the noise of sums. */
function figures(value: number): number {
  return Number(value.toPrecision(5));
}
