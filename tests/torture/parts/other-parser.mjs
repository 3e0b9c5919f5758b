import { CORE_SCHEMA, load } from 'js-yaml';

/** The events of a ledger by a YAML parser that is not the program's. Throws when it is no YAML. */
export function eventsByOther(text) {
  return load(text.replace(/^\ufeff/, ''), { schema: CORE_SCHEMA }).events ?? [];
}

/** What is wrong with the ids in a ledger, given those that must be there once; an empty list when nothing is. */
export function wrongIds(events, confirmed) {
  const counts = new Map();
  for (const { id } of events) counts.set(id, (counts.get(id) ?? 0) + 1);
  const doubled = [...counts].filter(([, count]) => count > 1).map(([id]) => `${id} is there twice`);
  const lost = [...confirmed].filter((id) => !counts.has(id)).map((id) => `${id} was confirmed and is lost`);
  return [...doubled, ...lost];
}
