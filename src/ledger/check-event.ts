import type { EventKind, LedgerEvent } from './event.ts';
import { explainIssues, type SourceOf, show } from './explain.ts';
import { explainTime } from './explain-time.ts';
import type { Finding } from './finding.ts';
import { checkNames, type Known } from './names.ts';
import { didYouMean } from './near.ts';
import { checkRules } from './rules.ts';
import { EVENT_KINDS, EVENT_SCHEMAS } from './schema.ts';
import { type Sound, soundEvent } from './sound.ts';
import { parseTime } from './time.ts';

/** The event, when the value is one in every respect; null otherwise. `known` is null where no head is at hand. */
export function checkEvent(value: unknown, known: Known | null): Sound | null {
  const schema = schemaOf(value);
  if (schema === undefined || !schema.safeParse(value).success) {
    return null;
  }
  return soundEvent(value as LedgerEvent, known);
}

/** Everything that keeps a value from being an event. `source` gives the characters a value was written with. */
export function explainEvent(value: unknown, known: Known | null, source: SourceOf): Finding[] {
  const schema = schemaOf(value);
  if (schema === undefined) {
    return [unknownKind(value)];
  }
  const event = value as LedgerEvent;
  const parsed = schema.safeParse(value);
  if (!parsed.success) {
    return explainIssues(parsed.error.issues, { value, schema, place: article(event.what), source });
  }
  const at = Number.isNaN(parseTime(event.at)) ? [{ ...explainTime('at', event.at), path: ['at'] }] : [];
  return [...at, ...checkRules(event, known), ...(known === null ? [] : checkNames(event, known))];
}

function schemaOf(value: unknown): (typeof EVENT_SCHEMAS)[EventKind] | undefined {
  const what = isMap(value) ? value.what : undefined;
  return typeof what === 'string' && Object.hasOwn(EVENT_SCHEMAS, what)
    ? EVENT_SCHEMAS[what as EventKind]
    : undefined;
}

function unknownKind(value: unknown): Finding {
  const kinds = EVENT_KINDS.join(', ');
  if (!isMap(value)) {
    return {
      code: 'event-not-a-map',
      message: 'Cannot read this line as an event',
      help: 'Write keys and values in braces, like - {id: "k3f9", at: 2026-11-02T07:40:00-04:00, what: fill, bath: dirty, solvent: ipa99, ml: 4000}',
      path: [],
    };
  }
  if (value.what === undefined) {
    return {
      code: 'missing-key',
      message: 'Cannot read this event without "what"',
      help: `Add what happened, one of ${kinds}`,
      path: [],
    };
  }
  const meant = typeof value.what === 'string' ? didYouMean(value.what, EVENT_KINDS) : undefined;
  return {
    code: 'unknown-event',
    message: `Cannot read what: ${show(value.what)}, no such event is known`,
    help: meant ?? `Use one of ${kinds}`,
    path: ['what'],
  };
}

function article(kind: EventKind): string {
  return `this ${kind}`;
}

function isMap(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
