/** What the document of a wash says where it repeats one, or stands for several. */
import { EVENT, listOf, object, orNull, type Schema, TEXT, TIME, WHOLE } from './schema-parts.ts';

export const CATCH_UP_KEYS: Record<string, Schema> = {
  'again_of?': { ...TEXT, description: 'the wash that was repeated' },
  'events?': { ...listOf(EVENT), description: 'all that were logged, where they were several' },
  'estimated?': object({
    since: TIME,
    until: TIME,
    mean_of_washes: {
      ...orNull(WHOLE),
      description: 'recent washes that the load is the mean of; null where it was named',
    },
    hours_of_washes: { ...WHOLE, description: 'washes that the working hours were taken from' },
  }),
};
