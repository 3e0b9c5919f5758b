/**
 * The one place that decides about colour. Colour never carries a meaning that the words do not.
 */
import { Chalk, type ChalkInstance } from 'chalk';

export interface Paint {
  strong(text: string): string;
  faint(text: string): string;
  /** By the verdict: keep plain, soon yellow, change and stop red. */
  verdict(word: string, text?: string): string;
}

export interface PaintChoice {
  choice: string | undefined;
  env: Record<string, string | undefined>;
  stream: { isTTY?: boolean };
}

/** `--color`, else NO_COLOR, else FORCE_COLOR, else whether the stream is a terminal that can. */
export function wantsColour({ choice, env, stream }: PaintChoice): boolean {
  if (choice === 'always') return true;
  if (choice === 'never') return false;
  if (env.NO_COLOR) return false;
  if (env.FORCE_COLOR !== undefined) return env.FORCE_COLOR !== '0';
  return stream.isTTY === true && env.TERM !== 'dumb';
}

/** Painters for one stream; without colour they give the text back. */
export function painter(given: PaintChoice): Paint {
  const chalk: ChalkInstance = new Chalk({ level: wantsColour(given) ? 1 : 0 });
  return {
    strong: (text) => chalk.bold(text),
    faint: (text) => chalk.dim(text),
    verdict: (word, text = word) => {
      switch (word) {
        case 'soon':
          return chalk.yellow(text);
        case 'change':
        case 'stop':
          return chalk.bold.red(text);
        default:
          return text;
      }
    },
  };
}
