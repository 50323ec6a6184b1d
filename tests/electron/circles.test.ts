// No circle of imports anywhere in the product, inside rooms neither; a type is a dependency too.
import { readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';

const ROOT = path.resolve(import.meta.dirname, '../..');

/** Files by what each imports, both from the root of the project. */
type Imports = ReadonlyMap<string, readonly string[]>;

const importsOf = (folders: readonly string[]): Imports => {
  const files = folders
    .flatMap((folder) =>
      readdirSync(path.join(ROOT, folder), { recursive: true, encoding: 'utf8' }).map((f) => path.join(folder, f)),
    )
    .filter((f) => /\.(tsx?|mjs)$/.test(f) && !f.endsWith('.d.ts'));
  const there = new Set(files);
  const found = (from: string, to: string): string | undefined => {
    const base = path.join(path.dirname(from), to.replace(/\?.*$/, ''));
    return [base, `${base}.ts`, `${base}.tsx`, path.join(base, 'index.ts'), path.join(base, 'index.tsx')].find((f) =>
      there.has(f),
    );
  };
  return new Map(
    files.map((file) => {
      const { importedFiles } = ts.preProcessFile(readFileSync(path.join(ROOT, file), 'utf8'), true, true);
      return [
        file,
        importedFiles.flatMap(({ fileName }) => (fileName.startsWith('.') ? (found(file, fileName) ?? []) : [])),
      ];
    }),
  );
};

/** The first circle met by walking the imports, or null. */
function circleIn(imports: Imports): string[] | null {
  const done = new Set<string>();
  const walk = (file: string, way: readonly string[]): string[] | null => {
    if (way.includes(file)) return [...way.slice(way.indexOf(file)), file];
    if (done.has(file)) return null;
    for (const next of imports.get(file) ?? []) {
      const circle = walk(next, [...way, file]);
      if (circle) return circle;
    }
    done.add(file);
    return null;
  };
  for (const file of imports.keys()) {
    const circle = walk(file, []);
    if (circle) return circle;
  }
  return null;
}

describe('imports', () => {
  it('run in no circle', () => {
    const imports = importsOf(['core', 'renderer', 'electron', 'scripts']);
    expect([...imports.values()].flat().length).toBeGreaterThan(1000);
    expect(circleIn(imports)).toBeNull();
  });
  it('are seen to run in one where they do', () => {
    expect(
      circleIn(
        new Map([
          ['a', ['b']],
          ['b', ['c', 'd']],
          ['c', []],
          ['d', ['b']],
        ]),
      ),
    ).toEqual(['b', 'd', 'b']);
  });
});
