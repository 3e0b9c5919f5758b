/** Grades of isopropanol and the strengths they stand for. */
import { fractionFromVolume } from './mixture.ts';

export interface Grade {
  name: 'usp-isopropyl-alcohol' | 'usp-azeotropic' | 'usp-rubbing';
  /** As people say it. */
  words: string;
  /** The monograph in data/SOURCES.md. */
  source: string;
  lowWtPct: number;
  highWtPct: number;
}

/** Limits in vol% hold at 20 °C. */
const volume = (volPct: number) => fractionFromVolume(volPct / 100, 20) * 100;

/** The grades of the United States Pharmacopeia, by falling strength; their limits in wt%. */
export const GRADES: readonly Grade[] = [
  {
    name: 'usp-isopropyl-alcohol',
    words: 'isopropyl alcohol, at least 99.0 %',
    source: 'USP29',
    lowWtPct: 99,
    highWtPct: 100,
  },
  {
    name: 'usp-azeotropic',
    words: 'azeotropic isopropyl alcohol, 91.0–93.0 vol%',
    source: 'USP28',
    lowWtPct: volume(91),
    highWtPct: volume(93),
  },
  {
    name: 'usp-rubbing',
    words: 'isopropyl rubbing alcohol, 68.0–72.0 vol%',
    source: 'USP32',
    lowWtPct: volume(68),
    highWtPct: volume(72),
  },
];

/** The grade whose strength a reading fits, give or take what the reading can tell; the nearest when two do. */
export function gradeOf(wtPct: number, giveOrTake = 0): Grade | null {
  const miss = ({ lowWtPct, highWtPct }: Grade) => Math.max(lowWtPct - wtPct, wtPct - highWtPct, 0);
  const [nearest] = [...GRADES].sort((a, b) => miss(a) - miss(b));
  return nearest && miss(nearest) <= giveOrTake ? nearest : null;
}
