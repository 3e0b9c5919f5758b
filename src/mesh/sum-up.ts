/** From triangles to what a wash needs to know of a part, and how far it can be trusted. */
import { capHoles } from './caps.ts';
import { findEdges } from './edges.ts';
import { findInside } from './inside.ts';
import { type Role, rolesOf } from './roles.ts';
import { findShells, type Shell } from './shells.ts';
import type { Surface } from './surface.ts';
import { type MeshUnit, MM_PER } from './units.ts';

/** How closely a file was looked at: `all`; `pieces`: too many to say which lies in which; `sums`: too large for more than sums. */
type Looked = 'all' | 'pieces' | 'sums';

export interface MeshMeasure {
  format: 'binary STL' | 'ASCII STL' | '3MF';
  unit: MeshUnit;
  /** Whether the file says its unit. */
  unitStated: boolean;
  triangles: number;
  boxMm: [number, number, number];
  /** Surface that the bath sees. */
  areaCm2: number;
  /** Solid, hollows left out; absent where the surface does not enclose one. */
  volumeMl?: number;
  /** Closed pieces that the bath sees. */
  pieces: number;
  /** Hollows that are shut, and what they hold. */
  voids: number;
  voidMl: number;
  openEdges: number;
  /** Edges whose triangles do not face the same way. */
  turnedEdges: number;
  /** Triangles without a surface. */
  flat: number;
  /** Pieces that face inwards as a whole; taken as if they faced outwards. */
  insideOut: number;
  /** Pairs of pieces that run into one another; what they share counts twice. */
  crossing: number;
  /** Pieces that lie wholly within solid, and what they hold; not counted. */
  buried: number;
  buriedMl: number;
  /** True where most edges have more than two triangles: the surface is there twice. */
  doubled: boolean;
  looked: Looked;
  /** What else a person should know, in sentences. */
  remarks: string[];
}

export type FileFacts = Pick<MeshMeasure, 'format' | 'unit' | 'unitStated' | 'remarks'>;

/** A surface with holes encloses a volume well enough if flat caps of no more than this share of it close them. */
const MOST_CAP_SHARE = 0.01;

export function sumUp(surface: Surface, facts: FileFacts): MeshMeasure {
  surface.close();
  const mm = MM_PER[facts.unit];
  const [mlPer, cm2Per] = [mm ** 3 / 1000, mm ** 2 / 100];
  const found = surface.indexed ? look(surface) : sumsOnly(surface);
  const { volume, area, voidVolume, buriedVolume, ...counts } = found;
  return {
    ...facts,
    triangles: surface.triangles,
    flat: surface.flat,
    boxMm: [0, 1, 2].map((axis) => mm * (surface.high[axis]! - surface.low[axis]!)) as [
      number,
      number,
      number,
    ],
    areaCm2: area * cm2Per,
    ...(volume === undefined ? {} : { volumeMl: volume * mlPer }),
    voidMl: voidVolume * mlPer,
    buriedMl: buriedVolume * mlPer,
    ...counts,
  };
}

/** In the unit of the file. */
interface Found
  extends Pick<
    MeshMeasure,
    | 'pieces'
    | 'voids'
    | 'openEdges'
    | 'turnedEdges'
    | 'insideOut'
    | 'crossing'
    | 'buried'
    | 'doubled'
    | 'looked'
  > {
  volume: number | undefined;
  area: number;
  voidVolume: number;
  buriedVolume: number;
}

const NOTHING_ODD = {
  voids: 0,
  openEdges: 0,
  turnedEdges: 0,
  insideOut: 0,
  crossing: 0,
  buried: 0,
  doubled: false,
  voidVolume: 0,
  buriedVolume: 0,
};

/** A surface that is looked at no closer may have holes that face one another; one whose holes do not is known not to be closed. */
const MOST_GAP = 1e-4;

function sumsOnly({ volumeSum, areaSum, shared, gap }: Surface): Found {
  return {
    ...NOTHING_ODD,
    pieces: 1,
    insideOut: volumeSum < 0 ? 1 : 0,
    looked: 'sums',
    volume: shared && gap < MOST_GAP ? Math.abs(volumeSum) : undefined,
    area: areaSum,
  };
}

function look(surface: Surface): Found {
  const edges = findEdges(surface);
  const shells = findShells(surface);
  const odd = {
    openEdges: edges.open,
    turnedEdges: edges.turned,
    doubled: 2 * edges.crowded > edges.all,
  };
  if (!shells) {
    const closed = edges.open + edges.turned === 0;
    return { ...sumsOnly(surface), ...odd, looked: 'pieces', ...(closed ? {} : { volume: undefined }) };
  }
  const caps = capHoles(surface, edges, shells);
  const inside = shells.list.length > 1 ? findInside(surface, shells) : { within: [[]], crossing: 0 };
  const roles = inside ? rolesOf(shells.list, inside) : shells.list.map((): Role => 'outer');
  return {
    ...odd,
    ...byRole(shells.list, roles),
    crossing: inside?.crossing ?? 0,
    looked: inside ? 'all' : 'pieces',
    ...(caps <= MOST_CAP_SHARE * surface.areaSum ? {} : { volume: undefined }),
  };
}

function byRole(list: readonly Shell[], roles: readonly Role[]) {
  const of = (role: Role) => list.filter((_, place) => roles[place] === role);
  const volume = (some: readonly Shell[]) => some.reduce((sum, shell) => sum + Math.abs(shell.volume), 0);
  const [outer, voids, cores, buried] = [of('outer'), of('void'), of('core'), of('buried')];
  return {
    pieces: outer.length,
    voids: voids.length,
    buried: buried.length,
    insideOut: outer.filter((shell) => shell.volume < 0).length,
    volume: volume(outer) - volume(voids) + volume(cores),
    area: outer.reduce((sum, { area }) => sum + area, 0),
    voidVolume: Math.max(0, volume(voids) - volume(cores)),
    buriedVolume: volume(buried),
  } satisfies Partial<Found>;
}
