/** The numbers that can be explained, by the words that stand on screen and by the keys of the JSON documents. */
import { explainArea } from './area.ts';
import { explainBand } from './band.ts';
import { explainCarry } from './carry.ts';
import { explainDensity } from './density.ts';
import { explainDrag } from './drag.ts';
import type { Explanation } from './equation.ts';
import { explainEvaporation } from './evaporation.ts';
import { explainLoadsLeft } from './loads-left.ts';
import { explainDissolution, explainResidue } from './residue.ts';
import { explainResin } from './resin.ts';
import type { Seen, SeenWash } from './seen.ts';
import { explainStrength } from './strength.ts';
import type { TopicName } from './topic-names.ts';
import { explainVerdict } from './verdict.ts';
import { explainVolume } from './volume.ts';
import { explainWater } from './water.ts';

interface Named {
  name: TopicName;
  about: string;
  /** Other words and keys for the same number. */
  also: readonly string[];
}

/** What a topic is of: a bath, a wash by its id, a solvent, or the shop. */
export type Topic = Named &
  (
    | { of: 'bath'; explain(seen: Seen, place: number, advice: string): Explanation }
    | { of: 'wash'; explain(seen: Seen, wash: SeenWash): Explanation }
    | { of: 'solvent'; explain(seen: Seen, solvent: string): Explanation }
    | { of: 'shop'; explain(seen: Seen): Explanation | null }
  );

/** In the order in which a number leads to the next. */
export const TOPICS: readonly Topic[] = [
  {
    name: 'area',
    about: 'the surface of a load',
    also: ['area_cm2', 'surface'],
    of: 'wash',
    explain: explainArea,
  },
  {
    name: 'carry',
    about: 'the resin a load carries into its first bath',
    also: ['carry_g', 'carry-over', 'film'],
    of: 'wash',
    explain: explainCarry,
  },
  {
    name: 'dissolution',
    about: 'what of it dissolves in each bath',
    also: ['dissolved', 'minutes', 'soak'],
    of: 'wash',
    explain: explainDissolution,
  },
  {
    name: 'drag',
    about: 'the liquid a load takes out of each bath',
    also: ['drag_ml', 'drag-out'],
    of: 'wash',
    explain: explainDrag,
  },
  {
    name: 'residue',
    about: 'the resin left on a load',
    also: ['residue_ug_per_cm2'],
    of: 'wash',
    explain: explainResidue,
  },
  {
    name: 'resin',
    about: 'the resin in a bath, in its three percents',
    also: ['resin_wt_pct', 'resin_g', 'resin_g_per_l', 'resin_vol_pct'],
    of: 'bath',
    explain: explainResin,
  },
  {
    name: 'water',
    about: 'the water in the solvent of a bath',
    also: ['water_wt_pct', 'water_g', 'moisture'],
    of: 'bath',
    explain: explainWater,
  },
  {
    name: 'evaporation',
    about: 'the IPA a bath loses in a day',
    also: ['air', 'ipa', 'ipa_g'],
    of: 'bath',
    explain: explainEvaporation,
  },
  {
    name: 'level',
    about: 'the volume of a bath',
    also: ['volume', 'volume_ml', 'mark'],
    of: 'bath',
    explain: explainVolume,
  },
  {
    name: 'density',
    about: 'what a hydrometer should read in a bath',
    also: ['density_room_g_ml', 'density_20c_g_ml', 'sg'],
    of: 'bath',
    explain: explainDensity,
  },
  {
    name: 'limits',
    about: 'why a bath says keep, soon, change or stop',
    also: ['verdict', 'advice', 'because'],
    of: 'bath',
    explain: explainVerdict,
  },
  {
    name: 'loads-left',
    about: 'how many more loads',
    also: ['loads', 'loads_left'],
    of: 'shop',
    explain: explainLoadsLeft,
  },
  {
    name: 'band',
    about: 'where the numbers in brackets come from',
    also: ['factors', 'p05', 'p95', 'brackets', 'factor'],
    of: 'bath',
    explain: explainBand,
  },
  {
    name: 'strength',
    about: 'a solvent by mass and by volume',
    also: ['vol', 'ipa_wt_pct', 'ipa_vol_pct'],
    of: 'solvent',
    explain: explainStrength,
  },
];

/** The topic of a word. */
export function topicOf(word: string): Topic | undefined {
  const plain = word.toLowerCase();
  return TOPICS.find(({ name, also }) => name === plain || also.includes(plain));
}
