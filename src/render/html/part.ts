/**
 * Where a report stands on its page: alone, or as one of several.
 */
import { type Child, element, type Markup } from './markup.ts';

export interface Part {
  /** What the ids of all that is in it begin with: none is twice on a page. */
  id: string;
  /** Of the titles of its sections; that of the page is 1. */
  level: number;
}

export const ALONE: Part = { id: '', level: 2 };

/** The title of a section, or so many levels below one. */
export function titleIn({ level }: Part, below: number, ...children: Child[]): Markup {
  return element(`h${level + below}`, {}, ...children);
}
