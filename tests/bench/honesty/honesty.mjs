// What the tests use of the honesty bench; types beside it.
export { dateHonesty } from './dates-measure.mjs';
export { exactPosteriors } from './exact.mjs';
export { bathDensity, bathVolume, indexOfBrix } from './liquid.mjs';
export { honesty, plusMinus } from './measure.mjs';
export { medianDraws, Simulation } from './model.mjs';
export { planOf } from './steps.mjs';
