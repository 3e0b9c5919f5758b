/** What is wrong with a file of triangles. Thrown within this room, a value outside of it (`measure.ts`). */
export class Unreadable extends Error {
  readonly help: string | undefined;
  /** Line in a file of text, from 1. */
  readonly line: number | undefined;

  constructor(message: string, help?: string, line?: number) {
    super(message);
    this.help = help;
    this.line = line;
  }
}

/** What to do about a file that is damaged. */
export const EXPORT_AGAIN = 'export the part again, as binary STL or 3MF';
