/** JSON Schemas of what shells read, and of the manual. */
import { object, oneOf, type Schema, TEXT } from './schema-parts.ts';

export const SHELL_SCHEMAS: Record<string, Schema> = {
  completion: object({
    shell: oneOf('bash', 'zsh', 'fish'),
    install: { ...TEXT, description: 'a command to type' },
    script: TEXT,
  }),
  docs: object({ format: oneOf('markdown', 'man'), text: TEXT }),
};
