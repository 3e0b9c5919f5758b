/** 3MF files, packed by another library's packer (fflate; the program unpacks with its own table of contents). */
import { strToU8, type Zippable, zipSync } from 'fflate';
import type { Facet } from './solids.ts';

const CORE = 'http://schemas.microsoft.com/3dmanufacturing/core/2015/02';
const RELATIONS = `<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">
<Relationship Target="/3D/part.model" Id="r0" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/>
</Relationships>`;

/** A mesh with shared corners, as the specification wants it. */
export function meshXml(facets: readonly Facet[]): string {
  const places = new Map<string, number>();
  const corners: string[] = [];
  const place = (corner: readonly number[]) => {
    const key = corner.join(' ');
    if (!places.has(key)) {
      places.set(key, places.size);
      corners.push(`<vertex x="${corner[0]}" y="${corner[1]}" z="${corner[2]}" />`);
    }
    return places.get(key)!;
  };
  const triangles = facets.map(
    ([a, b, c]) => `<triangle v1="${place(a)}" v2="${place(b)}" v3="${place(c)}" />`,
  );
  return `<mesh>\n<vertices>\n${corners.join('\n')}\n</vertices>\n<triangles>\n${triangles.join('\n')}\n</triangles>\n</mesh>`;
}

export function objectXml(id: number, inner: string, attributes = 'type="model"'): string {
  return `<object id="${id}" ${attributes}>${inner}</object>`;
}

export function modelXml(resources: string, build: string, attributes = 'unit="millimeter"'): string {
  return `<?xml version="1.0" encoding="UTF-8"?>\n<model ${attributes} xml:lang="en-US" xmlns="${CORE}">\n<resources>\n${resources}\n</resources>\n<build>${build}</build>\n</model>`;
}

/** One object, built once. */
export function oneObject(facets: readonly Facet[], attributes?: string): string {
  return modelXml(objectXml(1, meshXml(facets)), '<item objectid="1"/>', attributes);
}

export function threeMf(model: string, more: Record<string, string> = {}, level: 0 | 6 = 6): Uint8Array {
  const files: Zippable = {
    '[Content_Types].xml': strToU8(
      '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"/>',
    ),
    '_rels/.rels': strToU8(RELATIONS),
    '3D/part.model': strToU8(model),
  };
  for (const [name, text] of Object.entries(more)) files[name] = strToU8(text);
  return zipSync(files, { level });
}
