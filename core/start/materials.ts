/** What lids are made of: density, kg/m³, and where it is from. */
export interface LidMaterial {
  readonly name: string;
  readonly densityKgM3: number;
  readonly source: string;
}

const row = (name: string, densityKgM3: number, source: string): LidMaterial => ({ name, densityKgM3, source });

/** From memory: the standards' texts were not at hand. */
export const LID_MATERIALS: readonly LidMaterial[] = [
  row('Birch plywood', 700, 'EN 1991-1-1 table A.3: 7,0 kN/m³, read as 700 kg/m³'),
  row('Softwood plywood', 500, 'EN 1991-1-1 table A.3: 5,0 kN/m³, read as 500 kg/m³'),
  row('Poplar plywood', 430, 'common practice, no source'),
  row('MDF', 800, 'EN 1991-1-1 table A.3: medium density fibreboard 8,0 kN/m³'),
  row('Softwood C24', 420, 'EN 338: mean density'),
  row('Softwood C16', 370, 'EN 338: mean density'),
  row('Hardwood D30', 640, 'EN 338: mean density'),
  row('Steel', 7850, 'EN 1993-1-2, 3.2.2'),
  row('Aluminium', 2700, 'EN 1999-1-1, 3.2.5'),
  row('GRP laminate', 1600, 'common practice, no source: mat and weave, a third of glass by volume'),
  row('Acrylic', 1200, 'EN 1991-1-1 table A.5: acrylic sheet 12,0 kN/m³'),
  row('Cushion foam', 35, 'common practice, no source'),
  row('Foam core', 80, 'common practice, no source'),
];

const plain = (text: string): string =>
  text
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, ' ')
    .trim();

/** The material that a text names whole or begins ("ply" does not, "birch" does); null where none or several do. */
export function lidMaterial(text: string): LidMaterial | null {
  const asked = plain(text);
  if (asked === '') return null;
  const exact = LID_MATERIALS.find((m) => plain(m.name) === asked);
  const begun = LID_MATERIALS.filter((m) => ` ${plain(m.name)}`.includes(` ${asked}`));
  return exact ?? (begun.length === 1 ? begun[0]! : null);
}
