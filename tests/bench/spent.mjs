import { readFileSync } from 'node:fs';

/** User and system time of children that ended, in hundredths of a second, by /proc/PID/stat, fields 16 and 17 (proc(5)); Linux alone. */
export function spent() {
  const fields = readFileSync('/proc/self/stat', 'utf8').split(') ')[1].split(' ');
  return Number(fields[13]) + Number(fields[14]);
}
