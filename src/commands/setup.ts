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
import { isDone } from './streams.ts';

/** `setup`: makes a ledger where the other commands will look for it. */
export async function run(_args: string[], options: Options, context: Context): Promise<number> {
  const path = options.here === true ? join(process.cwd(), FILE_NAME) : context.ledger().path;
  if (existsSync(path)) throw taken(path);
  const { given, assumed } = await answersOf(options, context, path);
  const text = newLedgerText(given);
  await refuseUnsound(text);
  const clockMs = context.json ? await context.clockMs() : undefined;
  const problem = create(path, text, { makeFolder: true });
  if (problem) throw new Fault([problem], exitCodeOf([problem]));
  isDone(`The ledger is made all the same: ${path}`);
  if (clockMs !== undefined)
    context.printJson('setup', clockMs, { ledger: path, ...documentOf(given), assumed });
  else tell(context, path, given, assumed);
  return EXIT.done;
}

function taken(path: string): Fault {
  const problem = {
    code: 'already-exists',
    message: `Cannot create "${path}", the file exists already`,
    help: 'look at it with: bathbook baths; for another ledger: bathbook setup --ledger other.yaml',
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
  if (given.baths.length !== 2) context.note(`\n${NOT_A_PAIR[given.baths.length]}`);
  context.note('\nNext, the solvent as poured, then the first wash:');
  for (const step of nextSteps(given)) context.note(`  ${context.hint(`bathbook ${step}`)}`);
}

/** What works otherwise than with a dirty and a clean bath. */
const NOT_A_PAIR: Readonly<Record<number, string>> = {
  1: 'One bath: it is the last that parts see, so it has the limits of a clean bath. Change it with: bathbook refill single',
  3: 'Three baths: a load goes through first, second and third. The third has the limits of a clean bath. There is no rotation, which is for a pair named dirty and clean: change a bath with: bathbook refill third',
};

function nextSteps({ baths, markMl }: NewLedger): string[] {
  const litres = `${Number((markMl / 1000).toFixed(2))} L`;
  return [...baths.map((bath) => `fill ${bath} ${litres} ipa99`), 'wash 6 model 2 mask', 'baths'];
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
    baths: given.baths,
    mark_ml: given.markMl,
    length_mm: given.lengthMm,
    width_mm: given.widthMm,
    freeboard_mm: given.freeboardMm,
    lid_open_h: given.lidOpenH,
  };
}
