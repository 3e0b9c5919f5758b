import type { Explanation } from '../explain/equation.ts';
import { type Seen, seeShop } from '../explain/seen.ts';
import { TOPICS, type Topic, topicOf } from '../explain/topics.ts';
import { didYouMean, near } from '../ledger/near.ts';
import { adviceText } from '../render/advice.ts';
import { explainText, topicsText } from '../render/explain.ts';
import { readableWithDay, rfc3339 } from './clock.ts';
import type { Context, Opened } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT, usage } from './fault.ts';
import { tellRefused, tellUncounted } from './tell.ts';

/** One number to explain, and of what: a bath, the id of a wash, a solvent. */
interface Wanted {
  topic: Topic;
  of: string | undefined;
}

/** `explain`: any number on screen, with the formula and this shop's values put in. */
export async function run(args: string[], _options: Options, context: Context): Promise<number> {
  const wanted = wantedOf(args);
  if (wanted.length === 0) {
    await list(context);
    return EXIT.done;
  }
  const opened = await context.open();
  const explained = wanted.map((one) => explain(one, opened));
  await tellRefused(context, opened, explained[0]!.seen.status.replayed.refused);
  if (context.json) {
    context.printJson('explain', opened.clockMs, {
      explained: explained.map((one) => documentOf(one)),
    });
  } else {
    const view = { paint: context.paint, width: context.width, ascii: context.ascii };
    context.print(
      explained
        .map(({ explanation, atMs }) => explainText(explanation, readableWithDay(atMs), view))
        .join('\n\n\n'),
    );
  }
  tellUncounted(context, opened.settled);
  return EXIT.done;
}

async function list(context: Context): Promise<void> {
  if (context.json) {
    const topics = TOPICS.map(({ name, about, of, also }) => ({ name, about, of, also }));
    context.printJson('explain', await context.clockMs(), { topics });
    return;
  }
  context.print(topicsText(TOPICS, { paint: context.paint, width: context.width, ascii: context.ascii }));
}

/** A number may be followed by what it is of. */
function wantedOf(args: readonly string[]): Wanted[] {
  const wanted: Wanted[] = [];
  for (const word of args) {
    const topic = topicOf(word);
    const last = wanted.at(-1);
    if (topic) wanted.push({ topic, of: undefined });
    else if (last && last.of === undefined && last.topic.of !== 'shop') last.of = word;
    else throw unknownTopic(word);
  }
  return wanted;
}

function unknownTopic(word: string) {
  const names = TOPICS.map(({ name }) => name);
  return usage(
    `Cannot explain "${word}"`,
    didYouMean(
      word,
      TOPICS.flatMap(({ name, also }) => [name, ...also]),
    ) ?? `it is one of ${names.join(', ')}`,
  );
}

interface Explained {
  seen: Seen;
  explanation: Explanation;
  /** Of the wash, else the clock. */
  atMs: number;
}

function explain({ topic, of }: Wanted, opened: Opened): Explained {
  const { shop, file, settled, clockMs } = opened;
  const washId = topic.of === 'wash' ? of : undefined;
  const seen = seeShop({ shop, header: file.header!, entries: settled.entries, clockMs, washId });
  const explanation = explanationOf(topic, of, seen, opened);
  const atMs = topic.of === 'wash' ? seen.wash!.entry.atMs : clockMs;
  return { seen, explanation, atMs };
}

function explanationOf(topic: Topic, of: string | undefined, seen: Seen, opened: Opened): Explanation {
  switch (topic.of) {
    case 'bath':
      return topic.explain(seen, bathPlace(of, seen), adviceText(seen.status.advice, seen.status.estimates));
    case 'wash':
      if (!seen.wash) throw noWash(of, opened);
      return topic.explain(seen, seen.wash);
    case 'solvent':
      return topic.explain(seen, solventName(of, seen));
    case 'shop': {
      const explanation = topic.explain(seen);
      if (explanation) return explanation;
      throw usage(
        'Cannot count the loads left before the first wash, or with an empty bath',
        'log a wash first, like: bathbook wash 6 model',
      );
    }
    default:
      return topic satisfies never;
  }
}

/** The bath named, else the first; it must hold something to explain. */
function bathPlace(name: string | undefined, { shop, status }: Seen): number {
  const names = shop.tubs.map((tub) => tub.name);
  const place = name === undefined ? 0 : names.indexOf(name);
  if (place < 0) {
    throw usage(
      `Cannot find a bath named "${name}"`,
      didYouMean(name!, names) ?? `the baths are ${names.join(', ')}`,
    );
  }
  const { bath, resinWtPct, beyondModel, dry } = status.estimates[place]!;
  if (resinWtPct === null)
    throw usage(
      `Cannot explain the ${bath} bath, ${dry ? 'its solvent has evaporated' : 'it is empty'}`,
      dry ? `refill it: bathbook refill ${bath}` : `fill it first: bathbook fill ${bath} 4 L ipa99`,
    );
  if (beyondModel)
    throw usage(
      `Cannot explain the ${bath} bath, its solvent is below 40 wt% IPA, where the density data end`,
      `refill it: bathbook refill ${bath}`,
    );
  return place;
}

function noWash(id: string | undefined, { settled }: Opened) {
  const washes = settled.entries.filter(({ event }) => event.what === 'wash').map(({ event }) => event.id);
  if (washes.length === 0 || id === undefined)
    return usage('Cannot explain a wash, none counts yet', 'log one first, like: bathbook wash 6 model');
  const meant = near(id, washes);
  return usage(
    `Cannot find a wash "${id}" that counts`,
    meant ? `did you mean "${meant}"?` : 'the ids are in: bathbook entries --what wash',
  );
}

/** The solvent named, else the one last poured. */
function solventName(name: string | undefined, { shop, status }: Seen): string {
  const names = [...shop.solvents.keys()];
  const chosen = name ?? status.replayed.solvent ?? names[0]!;
  if (shop.solvents.has(chosen)) return chosen;
  throw usage(
    `Cannot find a solvent named "${chosen}"`,
    didYouMean(chosen, names) ?? `the solvents are ${names.join(', ')}`,
  );
}

function documentOf({ explanation, atMs }: Explained): Record<string, unknown> {
  const { topic, of, title, equations, known, remarks } = explanation;
  return {
    topic,
    of,
    at: rfc3339(atMs),
    title,
    equations,
    known: known.map(({ about, now, unit, atFirst, readings }) => ({
      about,
      unit,
      now,
      ...(atFirst === undefined ? {} : { at_first: atFirst }),
      ...(readings === undefined ? {} : { readings }),
    })),
    remarks,
  };
}
