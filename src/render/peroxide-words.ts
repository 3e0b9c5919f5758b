/** Cautions about peroxides in reclaimed solvent, said alike wherever a test is due: PEROXIDES in data/SOURCES.md. */

/** How it is tested, and how sure the day is. */
export const TEST_HOW = 'test strips; 6 to 12 months is a guess';

/** Once the day of the test is past. */
export const UNTESTED = 'not to be used untested';

export const DISTILLING =
  'Distil only in a still made for flammable solvent, only after a peroxide test, and never to dryness';
