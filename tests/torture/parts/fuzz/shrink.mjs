// Makes a failing input smaller: parts of it are left out as long as it fails in the same way (Zeller and Hildebrandt 2002,
// "Simplifying and isolating failure-inducing input", without its complements).

/** `fails(bytes)` tells whether it still does; at most so many tries. */
export async function shrunk(bytes, fails, mostTries = 400) {
  let now = await without(bytes.toString('latin1').split(/(?<=\n)/), fails, {
    left: mostTries,
  });
  now = await without(now.match(/\w+|[^\w]/gs) ?? [], fails, {
    left: mostTries,
  });
  return Buffer.from(now, 'latin1');
}

async function without(pieces, fails, tries) {
  let now = pieces;
  for (let size = Math.ceil(now.length / 2); size >= 1; size = size === 1 ? 0 : Math.ceil(size / 2)) {
    for (let at = 0; at < now.length && tries.left > 0; ) {
      const less = now.toSpliced(at, size);
      tries.left -= 1;
      if (await fails(Buffer.from(less.join(''), 'latin1'))) now = less;
      else at += size;
    }
  }
  return now.join('');
}
