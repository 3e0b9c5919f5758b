import type { Document, Node } from 'yaml';

type Yaml = typeof import('yaml');
export type Path = readonly (string | number)[];

/** A value of a document, and the key it stands under where that is a map. */
interface Standing {
  key: Node | undefined;
  value: Node | undefined;
}

/** Where each value of a document stands, found in one walk: looking a path up in a long map takes a look at each of its keys. */
export class Places {
  private readonly standing = new Map<string, Standing>();
  private readonly yaml: Yaml;

  constructor(yaml: Yaml, doc: Document) {
    this.yaml = yaml;
    this.walk('', undefined, doc.contents);
  }

  at(path: Path): Standing | undefined {
    return this.standing.get(path.map(stepTo).join(''));
  }

  private walk(path: string, key: unknown, value: unknown): void {
    const { yaml } = this;
    // A key that is there twice is told, and the first of them counts.
    if (!this.standing.has(path)) {
      this.standing.set(path, { key: node(yaml, key), value: node(yaml, value) });
    }
    if (yaml.isMap(value)) {
      for (const pair of value.items) {
        const name = yaml.isScalar(pair.key) ? pair.key.value : pair.key;
        this.walk(path + stepTo(String(name)), pair.key, pair.value);
      }
    } else if (yaml.isSeq(value)) {
      for (const [nth, item] of value.items.entries()) {
        this.walk(path + stepTo(nth), undefined, item);
      }
    }
  }
}

function stepTo(key: string | number): string {
  return `${JSON.stringify(String(key))}/`;
}

function node(yaml: Yaml, value: unknown): Node | undefined {
  return yaml.isNode(value) ? value : undefined;
}
