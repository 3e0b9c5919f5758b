import { near } from '../ledger/near.ts';
import { manPage } from '../render/man.ts';
import { reference } from '../render/reference.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT, usage } from './fault.ts';
import { DEFINITIONS } from './help.ts';
import { VERSION } from './version.ts';

const FORMATS: Readonly<Record<string, typeof manPage>> = { markdown: reference, man: manPage };

/** `docs`: the manual, made of the definitions that help is made of. */
export async function run(
  [format = 'markdown']: string[],
  _options: Options,
  context: Context,
): Promise<number> {
  const names = Object.keys(FORMATS);
  const write = Object.hasOwn(FORMATS, format) ? FORMATS[format] : undefined;
  if (!write)
    throw usage(
      `Cannot write the manual as "${format}", it takes ${names.join(', ')}`,
      `type: bathbook docs ${near(format, names) ?? 'markdown'}`,
    );
  const text = write(DEFINITIONS, VERSION);
  if (context.json) context.printJson('docs', await context.clockMs(), { format, text });
  else context.print(text);
  return EXIT.done;
}
