/** A strict reader of the part of RFC 5545 that all-day events need, written from its grammar; throws on anything else. */

export interface ReadEvent {
  uid: string;
  stamp: string;
  startDate: string;
  /** The first day after the event. */
  end: string | undefined;
  summary: string;
  description: string;
  categories: string[];
  transparency: string | undefined;
}

/** The lines as they stand, in octets, without their line breaks. */
export function rawLines(calendar: string): Uint8Array[] {
  if (!calendar.endsWith('\r\n')) throw new Error('no line break at the end');
  return calendar
    .slice(0, -2)
    .split('\r\n')
    .map((line) => new TextEncoder().encode(line));
}

/** 3.1: unfolded content lines, each a name, its parameters and a value. */
function contentLines(calendar: string): [name: string, parameters: string, value: string][] {
  for (const line of rawLines(calendar)) if (line.length > 75) throw new Error('more than 75 octets');
  const unfolded = calendar.slice(0, -2).replaceAll('\r\n ', '').split('\r\n');
  return unfolded.map((line) => {
    // 3.1: VALUE-CHAR is any but control characters; tab is allowed.
    const found = /^([A-Z-]+)((?:;[A-Z]+=[A-Z]+)*):((?:\t|\P{Cc})*)$/u.exec(line);
    if (!found) throw new Error(`no content line: ${JSON.stringify(line)}`);
    return [found[1]!, found[2]!, found[3]!];
  });
}

/** 3.6: one VCALENDAR of events alone. */
export function readCalendar(calendar: string): ReadEvent[] {
  const lines = contentLines(calendar).map(([name, parameters, value]) => ({ name, parameters, value }));
  take(lines.shift(), 'BEGIN', 'VCALENDAR');
  take(lines.pop(), 'END', 'VCALENDAR');
  const firstEvent = lines.findIndex(({ name }) => name === 'BEGIN');
  if (firstEvent < 0) throw new Error('no component');
  const head = once(lines.slice(0, firstEvent), ['PRODID', 'VERSION'], ['CALSCALE', 'METHOD']);
  if (head.VERSION !== '2.0' || (head.CALSCALE ?? 'GREGORIAN') !== 'GREGORIAN') throw new Error('version');
  const events: ReadEvent[] = [];
  for (const rest = lines.slice(firstEvent); rest.length > 0; ) {
    take(rest.shift(), 'BEGIN', 'VEVENT');
    const end = rest.findIndex(({ name }) => name === 'END');
    const body = rest.splice(0, end);
    take(rest.shift(), 'END', 'VEVENT');
    events.push(eventOf(body));
  }
  return events;
}

interface Line {
  name: string;
  parameters: string;
  value: string;
}

function take(line: Line | undefined, name: string, value: string): void {
  if (line?.name !== name || line.value !== value || line.parameters)
    throw new Error(`${name}:${value} is missing`);
}

/** 3.6.1. The properties here may all occur once only, but for CATEGORIES, of which we write one. */
function eventOf(body: Line[]): ReadEvent {
  const required = ['UID', 'DTSTAMP', 'DTSTART', 'SUMMARY', 'DESCRIPTION'];
  const event = once(body, required, ['DTEND', 'CATEGORIES', 'TRANSP']);
  if (!/^\d{8}T([01]\d|2[0-3])[0-5]\d[0-5]\dZ$/.test(event.DTSTAMP!)) throw new Error('DTSTAMP');
  for (const { name, parameters } of body) {
    if (parameters !== (/^DT(START|END)$/.test(name) ? ';VALUE=DATE' : ''))
      throw new Error(`parameters of ${name}`);
  }
  return {
    uid: textOf(event.UID!),
    stamp: event.DTSTAMP!,
    startDate: dateOf(event.DTSTART!),
    end: event.DTEND === undefined ? undefined : dateOf(event.DTEND),
    summary: textOf(event.SUMMARY!),
    description: textOf(event.DESCRIPTION!),
    categories:
      event.CATEGORIES === undefined ? [] : event.CATEGORIES.split(/(?<=(?:^|[^\\])(?:\\\\)*),/).map(textOf),
    transparency: event.TRANSP,
  };
}

function once(lines: Line[], required: string[], optional: string[]): Record<string, string | undefined> {
  const names = lines.map(({ name }) => name);
  if (new Set(names).size !== names.length) throw new Error('a property stands twice');
  for (const name of required) if (!names.includes(name)) throw new Error(`${name} is missing`);
  for (const name of names)
    if (!required.includes(name) && !optional.includes(name)) throw new Error(`unknown ${name}`);
  return Object.fromEntries(lines.map(({ name, value }) => [name, value]));
}

/** 3.3.11: `\\`, `\;`, `\,`, `\n` or `\N`, and none of those signs bare. */
function textOf(value: string): string {
  if (!/^(?:[^\\;,]|\\[\\;,nN])*$/u.test(value)) throw new Error(`no TEXT: ${value}`);
  return value.replaceAll(/\\(.)/g, (_, sign: string) => (/n/i.test(sign) ? '\n' : sign));
}

/** 3.3.4. */
function dateOf(value: string): string {
  const date = value.replace(/^(\d{4})(\d{2})(\d{2})$/, '$1-$2-$3');
  if (new Date(`${date}T00:00:00Z`).toISOString().slice(0, 10) !== date) throw new Error(`no date: ${value}`);
  return date;
}
