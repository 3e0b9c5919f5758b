/** `waste label`: the text of a label, and where each line of it comes from. */
import { labelFacts } from '../records/label.ts';
import type { Container } from '../records/waste.ts';
import { labelDocument, labelNotes, labelText } from '../render/waste-label.ts';
import { readableDay } from './clock.ts';
import type { Context, Opened } from './context.ts';
import { usage } from './fault.ts';
import { dateOnly } from './stock-day.ts';
import { containerNamed, unknownContainer } from './waste-words.ts';

/** @throws Fault, usage, for a container that is not known or not in use */
export function writeLabel(
  [name, ...more]: readonly string[],
  containers: readonly Container[],
  { shop, clockMs }: Opened,
  context: Context,
): void {
  if (name === undefined || more.length > 0)
    throw usage('Cannot print a label without one container', 'name it, like: bathbook waste label can-1');
  const one = containerNamed(name, containers);
  if (!one) throw unknownContainer(name, containers, 'print a label for');
  if (one.closed !== null)
    throw usage(
      `Cannot print a label for "${name}", it was ${one.closed} on ${readableDay(one.closedMs!)}`,
      `put it in use again: bathbook waste opened ${name} 10 L`,
    );
  const facts = labelFacts();
  const text = labelText(one, facts, { shop: shop.name, day: dateOnly, clockMs });
  if (context.json) context.printJson('waste', clockMs, { label: labelDocument(one, facts, text) });
  else context.print([text, '-'.repeat(58), labelNotes(facts, context.width)].join('\n\n'));
}
