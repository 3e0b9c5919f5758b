// The ledger room as a library, for parts that call it in their own process: bundled by build.mjs.
export { append } from '../../../src/ledger/append.ts';
export { create } from '../../../src/ledger/append-create.ts';
export { cutLast } from '../../../src/ledger/append-cut-last.ts';
export { newId } from '../../../src/ledger/id.ts';
export { takeLock } from '../../../src/ledger/lock.ts';
export { readLedger } from '../../../src/ledger/read.ts';
