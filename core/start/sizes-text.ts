import { LidwrightError, attempt, fail, wordsOf } from '../error';
import { type Dimension, evaluateQuantity } from '../quantity';
import { LID_MATERIALS, lidMaterial } from './materials';
import { LIES, type Layer, type LidSizes, type Lie, type Thing } from './sizes';

/** The sizes that are one number, by the name a person types for them, and what each measures. */
export const SIZE_NAMES = {
  width: ['widthMm', 'length'],
  depth: ['depthMm', 'length'],
  kg: ['kg', 'mass'],
  inset: ['insetMm', 'length'],
  height: ['heightMm', 'length'],
  open: ['openDeg', 'angle'],
  skew: ['skewDeg', 'angle'],
  cold: ['coldC', 'temperature'],
  hot: ['hotC', 'temperature'],
  slope: ['slopeDeg', 'angle'],
  lift: ['handOpenN', 'force'],
  shut: ['handCloseN', 'force'],
  'let-go': ['letGoJ', 'energy'],
} as const satisfies Record<string, readonly [keyof LidSizes, Dimension]>;
export type SizeName = keyof typeof SIZE_NAMES;

/** A lid's sizes as typed; lists as often as there are layers and things. */
export type SizeTexts = { readonly [K in SizeName]?: string } & {
  readonly title?: string;
  readonly lies?: string;
  readonly thickness?: string;
  readonly material?: string;
  readonly layer?: readonly string[];
  readonly thing?: readonly string[];
  readonly seal?: string;
  readonly struts?: string;
};

const parts = (text: string): string[] => text.split(/[;,]/).map((part) => part.trim());

function number(text: string, dimension: Dimension, where: string): number {
  const { value, error } = attempt(() => evaluateQuantity(text, dimension));
  return error ? fail(`--${where}: ${wordsOf(error)}`, [], '') : value;
}

const materials = (): string => LID_MATERIALS.map((m) => m.name).join(', ');

/** "Birch plywood; 18 mm" or "top; 12 mm; 550": what it is, how thick, kg/m³ where it is no known material. */
function layerOf(text: string): Layer {
  const [name = '', thickness = '', density] = parts(text);
  const known = lidMaterial(name);
  if (density === undefined && !known)
    return fail(
      `--layer: the density of "${name}" is not known`,
      [],
      `Write its kg/m³ as a third part, or one of: ${materials()}.`,
    );
  return {
    name: known?.name ?? name,
    thicknessMm: number(thickness, 'length', 'layer'),
    densityKgM3: density === undefined ? known!.densityKgM3 : number(density, 'number', 'layer'),
  };
}

/** "Table; 6 kg; 240 mm; 30 mm; 0 mm; off": what, its mass, out from the hinge, over the lid, to the left, comes off. */
function thingOf(text: string): Thing {
  const all = parts(text);
  const comesOff = /^(comes )?off$/i.test(all.at(-1) ?? '');
  const [name = '', kg = '', out = '', over = '0', left = '0', ...more] = comesOff ? all.slice(0, -1) : all;
  if (name === '' || kg === '' || out === '' || more.length > 0)
    return fail(
      `--thing "${text}" can't be read`,
      [],
      'Write it as "name; mass; out from the hinge; over the lid; to the left; off": the last three may be left out.',
    );
  return {
    ...{ name, comesOff, kg: number(kg, 'mass', 'thing'), outMm: number(out, 'length', 'thing') },
    ...{ overMm: number(over, 'length', 'thing'), leftMm: number(left, 'length', 'thing') },
  };
}

/** A lid's sizes from what was typed. Throws a LidwrightError with everything that can't be read. */
export function readSizes(texts: SizeTexts): LidSizes {
  const wrong: LidwrightError[] = [];
  const take = <T>(read: () => T): T | undefined => {
    const { value, error } = attempt(read);
    if (error) wrong.push(error);
    return error ? undefined : value;
  };
  const needed = (name: 'width' | 'depth'): number =>
    texts[name] === undefined
      ? fail(
          `--${name} is missing`,
          [],
          `Measure the lid ${name === 'width' ? 'along its hinges' : 'from the hinged to the free edge'}.`,
        )
      : number(texts[name], 'length', name);
  const numbers = (Object.entries(SIZE_NAMES) as [SizeName, (typeof SIZE_NAMES)[SizeName]][]).flatMap(
    ([name, [key, dimension]]) =>
      texts[name] === undefined || name === 'width' || name === 'depth'
        ? []
        : [[key, take(() => number(texts[name]!, dimension, name))] as const],
  );
  const plate = (): Layer[] => {
    if (texts.layer) return texts.layer.map(layerOf);
    if (texts.thickness === undefined)
      return fail(
        'neither --thickness nor --layer is given',
        [],
        'Give the thickness of the lid and --material, or its layers.',
      );
    const material = lidMaterial(texts.material ?? 'Birch plywood');
    if (!material) return fail(`--material "${texts.material}" is not known`, [], `It can be ${materials()}.`);
    return [
      {
        name: material.name,
        thicknessMm: number(texts.thickness, 'length', 'thickness'),
        densityKgM3: material.densityKgM3,
      },
    ];
  };
  const lies = (): Lie =>
    (Object.keys(LIES) as Lie[]).find((lie) => lie === texts.lies) ??
    fail(`--lies is "${texts.lies}"`, [], `It can be ${Object.keys(LIES).join(', ')}.`);
  const seal = (text: string): NonNullable<LidSizes['seal']> => {
    const [force = '', over = ''] = parts(text);
    return { forceN: number(force, 'force', 'seal'), overMm: number(over, 'length', 'seal') };
  };
  const struts = (): 1 | 2 =>
    texts.struts === '1'
      ? 1
      : texts.struts === '2'
        ? 2
        : fail(`--struts is "${texts.struts}"`, [], 'It can be 1 or 2.');
  const sizes: LidSizes = {
    ...(texts.title === undefined ? {} : { title: texts.title.slice(0, 200) }),
    widthMm: take(() => needed('width')) ?? 0,
    depthMm: take(() => needed('depth')) ?? 0,
    layers: take(plate) ?? [],
    ...Object.fromEntries(numbers),
    ...(texts.lies === undefined ? {} : { lies: take(lies) }),
    ...(texts.thing ? { things: take(() => texts.thing!.map(thingOf)) } : {}),
    ...(texts.seal === undefined ? {} : { seal: take(() => seal(texts.seal!)) }),
    ...(texts.struts === undefined ? {} : { quantity: take(struts) }),
  };
  const [first, ...also] = wrong.flatMap((error) => error.issues);
  if (first) throw new LidwrightError(first, also);
  return sizes;
}
