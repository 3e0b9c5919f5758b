import type { Collector } from './collector.ts';
import { findControlSign } from './control-sign.ts';
import type { LedgerEvent, Written } from './event.ts';
import { continues, type Line, lineAt, strayLine } from './event-lines.ts';
import type { Finding } from './finding.ts';
import { writeFlow } from './line.ts';
import type { Known } from './names.ts';
import { oddNumbers } from './odd-numbers.ts';
import { placed, type Told } from './place.ts';
import { unsaid } from './read-head.ts';
import { scanEvent } from './scan.ts';
import { isPrintable } from './signs.ts';
import { quickCheck } from './sound.ts';
import type { Split } from './split.ts';

const HASH = 35;
const DASH = 45;

/**
 * Reads the lines after `events:`. The text is walked and never cut into an array of lines; a hundred thousand of
 * them would cost their memory twice.
 */
export class EventReader {
  readonly events: Written[] = [];
  slowEvents = 0;
  indent: number | null = null;
  private readonly text: string;
  private readonly known: Known | null;
  private readonly out: Collector;
  private readonly lineOfId = new Map<string, number>();
  /** A mark of a merge that was not finished has been told, in the head or here. */
  private conflict: boolean;

  constructor(text: string, known: Known | null, out: Collector) {
    this.text = text;
    this.known = known;
    this.out = out;
    this.conflict = out.problems.some((one) => one.code === 'conflict-marker');
  }

  async read(split: Split): Promise<void> {
    let start = split.next;
    let number = split.line + 1;
    while (start < this.text.length) {
      const line = lineAt(this.text, start, number);
      const sign = line.first < line.end ? this.text.charCodeAt(line.first) : HASH;
      const isRemark = sign === HASH && isPrintable(this.text, line.first, line.end);
      if (isRemark || (sign === DASH && this.readFast(line))) {
        start = line.next;
        number++;
      } else {
        const last = await this.readSlow(line);
        start = last.next;
        number = last.number + 1;
      }
    }
  }

  /** Reads a line in the narrow form; false when there is anything unusual about it. */
  private readFast(line: Line): boolean {
    const { indent } = this;
    if (indent !== null && line.first - line.start !== indent) {
      return false;
    }
    const value = scanEvent(this.text, line.first, line.end);
    const sound = value === null ? null : quickCheck(value, this.known);
    if (sound === null || this.lineOfId.has(sound.event.id)) {
      return false;
    }
    this.keep(sound.event, sound.atMs, line);
    return true;
  }

  private keep(event: LedgerEvent, atMs: number, line: Line): void {
    this.indent ??= line.first - line.start;
    this.lineOfId.set(event.id, line.number);
    this.events.push({ event, atMs, line: line.number, place: this.events.length });
  }

  /** Reads a line with the full parser, or tells what is wrong with it. Gives the last line it took. */
  private async readSlow(line: Line): Promise<Line> {
    const sign = findControlSign(this.text.slice(line.first, line.end));
    if (sign !== undefined) {
      this.tell(line, { ...sign, start: sign.start + line.first, end: sign.end + line.first });
    }
    if (sign !== undefined || this.text.charCodeAt(line.first) === HASH) {
      return line;
    }
    const stray = strayLine(this.text, line, this.indent);
    if (stray !== undefined) {
      // The marks between and after the two sides belong to the first one that was told.
      if (stray.code !== 'conflict-marker' || !this.conflict) {
        this.tell(line, stray);
      }
      this.conflict ||= stray.code === 'conflict-marker';
      return stray.code === 'several-documents' ? { ...line, next: this.text.length } : line;
    }
    this.indent ??= line.first - line.start;
    let last = line;
    while (
      last.next < this.text.length &&
      continues(this.text, lineAt(this.text, last.next, last.number + 1), line)
    ) {
      last = lineAt(this.text, last.next, last.number + 1);
    }
    const scanned = last === line ? scanEvent(this.text, line.first, line.end) : null;
    if (scanned !== null && (await this.passes(scanned, line))) {
      return line;
    }
    if (scanned === null) {
      this.slowEvents++;
    }
    await this.parse(line, last);
    return last;
  }

  /** Keeps an event that was scanned and that only the schemas can judge. */
  private async passes(value: unknown, line: Line): Promise<boolean> {
    const { checkEvent } = await import('./check-event.ts');
    const sound = checkEvent(value, this.known);
    if (sound === null || this.lineOfId.has(sound.event.id)) {
      return false;
    }
    this.keep(sound.event, sound.atMs, line);
    return true;
  }

  private async parse(line: Line, last: Line): Promise<void> {
    const { checkEvent, explainEvent } = await import('./check-event.ts');
    const { parseYaml } = await import('./parse-yaml.ts');
    const parsed = await parseYaml(this.text.slice(line.start, last.end), [0]);
    const isMap = typeof parsed.value === 'object' && parsed.value !== null && !Array.isArray(parsed.value);
    if (last !== line || (isMap && !parsed.flow)) {
      this.tell(line, notOneLine(line, isMap ? (parsed.value as Record<string, unknown>) : undefined));
      return;
    }
    if (parsed.told.length > 0) {
      for (const told of parsed.told.slice(0, 1)) {
        this.tell(line, { ...told, start: told.start + line.start, end: told.end + line.start });
      }
      return;
    }
    const odd = oddNumbers(parsed.value, parsed.source);
    const sound = odd.length === 0 ? checkEvent(parsed.value, this.known) : null;
    if (sound !== null && !this.lineOfId.has(sound.event.id)) {
      this.keep(sound.event, sound.atMs, line);
      return;
    }
    const wrong =
      sound === null
        ? explainEvent(parsed.value, this.known, parsed.source)
        : [this.duplicate(sound.event.id)];
    // A number under a key for text is better told as text without quotes.
    const quotes = wrong.filter((one) => one.code === 'text-needs-quotes');
    for (const one of [...unsaid(odd, quotes), ...unsaid(wrong, odd)]) {
      const told = parsed.place(one);
      this.tell(line, { ...told, start: told.start + line.start, end: told.end + line.start });
    }
  }

  private duplicate(id: string): Finding {
    return {
      code: 'duplicate-id',
      message: `Cannot use the id "${id}" again, line ${this.lineOfId.get(id)} has it`,
      help: 'Delete the line if it is the same event, or give it another id',
      path: ['id'],
    };
  }

  private tell(line: Line, told: Told): void {
    const snippet = { text: this.text.slice(line.start, line.end), firstLine: line.number };
    this.out.add(placed(snippet, { ...told, start: told.start - line.start, end: told.end - line.start }));
  }
}

function notOneLine(line: Line, value: Record<string, unknown> | undefined): Told {
  return {
    code: 'event-not-one-line',
    message: 'Cannot read an event that is not one line in braces',
    help:
      value === undefined
        ? 'Write it on one line, like - {id: "k3f9", at: …, what: …}'
        : `Write it on one line: - ${writeFlow(value)}`,
    start: line.first,
    end: line.end,
  };
}
