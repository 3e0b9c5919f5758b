/** Put in by the bundler, from package.json. */
export const VERSION = process.env.BATHBOOK_VERSION ?? '0.0.0';
