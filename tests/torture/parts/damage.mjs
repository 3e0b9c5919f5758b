// What the tests of the ledger room know of damaged ledgers, for the part that goes through all of them: bundled by build.mjs.
export { judgeCut } from '../../ledger/cut.ts';
export { judge, originalOf } from '../../ledger/damage.ts';
export { LEDGERS } from '../../ledger/damage-ledgers.ts';
export { allReplacements, doubled, removed, replaced } from '../../ledger/damages.ts';
