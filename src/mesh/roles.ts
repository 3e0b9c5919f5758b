/** What each shell of a part is: skin that the bath sees, a hollow that is shut, or something within either. */
import type { Inside } from './inside.ts';
import type { Shell } from './shells.ts';

/**
 * `outer`: seen by the bath; `void`: faces the other way and lies in solid; `core`: solid in a void; `buried`: solid within solid,
 * as the tip of a support, or a hollow that was exported facing the wrong way.
 */
export type Role = 'outer' | 'void' | 'core' | 'buried';

export function rolesOf(list: readonly Shell[], { within }: Inside): Role[] {
  return list.map((shell, place) => {
    const holders = within[place]!;
    const outermost = holders.find((holder) => within[holder]!.length === 0);
    if (outermost === undefined) return 'outer';
    // A part that faces inwards as a whole is turned as a whole.
    const turned = Math.sign(list[outermost]!.volume);
    const depth = holders.reduce((sum, holder) => sum + turned * Math.sign(list[holder]!.volume), 0);
    if (turned * shell.volume < 0) return depth > 0 ? 'void' : 'core';
    return depth > 0 ? 'buried' : 'core';
  });
}
