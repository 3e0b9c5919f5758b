import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { create } from '../ledger/append-create.ts';
import { exitCodeOf } from '../ledger/problems.ts';
import { readLedger } from '../ledger/read.ts';
import { type NewLedger, newLedgerText } from '../render/new-ledger.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT, Fault } from './fault.ts';
import { FILE_NAME } from './find-ledger.ts';
import { answersOf, QUESTIONS } from './setup-answers.ts';

/** `setup`: makes a ledger where the other commands will look for it. */
export async function run(_args: string[], options: Options, context: Context): Promise<number> {
  const path = options.here === true ? join(process.cwd(), FILE_NAME) : context.ledger().path;
  if (existsSync(path)) throw taken(path);
  const { given, assumed } = await answersOf(options, context);
  const text = newLedgerText(given);
  await refuseUnsound(text);
  const problem = create(path, text, { makeFolder: true });
  if (problem) throw new Fault([problem], exitCodeOf([problem]));
  if (context.json)
    context.printJson('setup', await context.clockMs(), { ledger: path, ...documentOf(given), assumed });
  else tell(context, path, given, assumed);
  return EXIT.done;
}

function taken(path: string): Fault {
  const problem = {
    code: 'already-exists',
    message: `Cannot create "${path}", the file exists already`,
    help: 'look at it with: bathbook baths; for another ledger: bathbook setup --here, or --ledger FILE',
    severity: 'error',
  } as const;
  return new Fault([problem], EXIT.cannotCreate);
}

/** A name or a zone could still be something that no ledger may hold. */
async function refuseUnsound(text: string): Promise<void> {
  const { problems } = await readLedger(Buffer.from(text, 'utf8'));
  if (problems.length === 0) return;
  throw new Fault(
    problems.map(({ code, message, help, severity }) => ({
      code,
      message,
      ...(help ? { help } : {}),
      severity,
    })),
    EXIT.usage,
  );
}

function tell(context: Context, path: string, given: NewLedger, assumed: readonly string[]): void {
  context.print(`Made ${path}`);
  if (assumed.length > 0 && assumed.length < QUESTIONS.length)
    context.note(`Usual values for ${assumed.join(', ')}; change them in the file`);
  if (assumed.length === QUESTIONS.length)
    context.note('All of it usual values; change them in the file, tub sizes first');
  const litres = `${Number((given.markMl / 1000).toFixed(2))} L`;
  context.note('\nNext, the solvent as poured, then the first wash:');
  for (const step of [
    `fill dirty ${litres} ipa99`,
    `fill clean ${litres} ipa99`,
    'wash 6 model 2 mask',
    'baths',
  ]) {
    context.note(`  bathbook ${step}`);
  }
}

function documentOf(given: NewLedger): Record<string, unknown> {
  return {
    shop: {
      name: given.name,
      timezone: given.timezone,
      ...(given.currency ? { currency: given.currency } : {}),
      room_c: given.roomC,
      humidity_pct: given.humidityPct,
      parts_use: given.partsUse,
    },
    mark_ml: given.markMl,
    length_mm: given.lengthMm,
    width_mm: given.widthMm,
    freeboard_mm: given.freeboardMm,
    lid_open_h: given.lidOpenH,
  };
}
