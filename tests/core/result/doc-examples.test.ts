// Every `@example EXPRESSION // RESULT` in core runs, and gives that result. The list of functions that still have no
// docstring is kept in the open (tests/support/undocumented.json) and may only get shorter.
import { readdirSync } from 'node:fs';
import path from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { difference, withinEither } from '../../support/close';
import { filePath, fileText } from '../../support/files';
import listed from '../../support/undocumented.json';

const undocumented: readonly string[] = listed;

const files = readdirSync(filePath('core'), { recursive: true, encoding: 'utf8' })
  .map((name) => `core/${name.split(path.sep).join('/')}`)
  .filter((name) => /\.ts$/.test(name) && !name.endsWith('.d.ts'))
  .sort();

interface Example {
  readonly file: string;
  readonly expression: string;
  readonly result: string;
}
const examples: Example[] = files.flatMap((file) =>
  [...fileText(file).matchAll(/@example\s+(\S.*?)\s+\/\/\s+(\S.*?)\s*(?:\*\/)?$/gm)].map(([, expression, result]) => ({
    file,
    expression: expression!,
    result: result!,
  })),
);

const modules = import.meta.glob<Record<string, unknown>>('../../../core/**/*.ts');
const load = (file: string): Promise<Record<string, unknown>> => modules[`../../../${file}`]!();

/** Types are struck out; what is left is run with the module's exports in reach, and its room's. */
async function run(code: string, file: string): Promise<unknown> {
  const room = `${path.posix.dirname(file)}/index.ts`;
  const scope = { ...(modules[`../../../${room}`] ? await load(room) : {}), ...(await load(file)) };
  const js = ts
    .transpileModule(`export default (${code});`, {
      compilerOptions: { target: ts.ScriptTarget.ES2022, module: ts.ModuleKind.ESNext },
    })
    .outputText.replace(/^export default /, 'return ');
  return new Function(...Object.keys(scope), js)(...Object.values(scope)) as unknown;
}

/** Numbers to 1e-12; texts, keys and all else exactly. */
function same(actual: unknown, expected: unknown, at = ''): string | null {
  if (typeof expected === 'number') return difference(actual, expected, withinEither(1e-12, 1e-12, '1'), at);
  if (typeof expected === 'object' && expected !== null) {
    if (typeof actual !== 'object' || actual === null) return `${at}: ${String(actual)} is no object`;
    const keys = Object.keys(expected);
    if (Object.keys(actual).join() !== keys.join())
      return `${at}: keys ${Object.keys(actual).join()}, expected ${keys.join()}`;
    for (const key of keys) {
      const found = same(
        (actual as Record<string, unknown>)[key],
        (expected as Record<string, unknown>)[key],
        `${at}.${key}`,
      );
      if (found) return found;
    }
    return null;
  }
  return Object.is(actual, expected) ? null : `${at}: ${JSON.stringify(actual)}, expected ${JSON.stringify(expected)}`;
}

describe('examples in docstrings', () => {
  it('are found, and every @example has a result beside it', () => {
    expect(examples.length).toBeGreaterThan(20);
    const written = files.reduce((n, file) => n + (fileText(file).match(/@example/g)?.length ?? 0), 0);
    expect(examples).toHaveLength(written);
  });
  it.each(examples)('$file: $expression', async ({ file, expression, result }) => {
    expect(same(await run(expression, file), await run(result, file))).toBeNull();
  });
  it('a wrong result would be noticed', async () => {
    const file = 'core/space/vec3.ts';
    expect(same(await run('add([1, 2, 3], [10, 20, 30])', file), await run('[11, 22, 33.001]', file))).not.toBeNull();
    expect(same('a', 'b')).not.toBeNull();
    expect(same({ a: 1 }, { a: 1, b: 2 })).not.toBeNull();
    expect(same([1], [1, 2])).not.toBeNull();
  });
});

/** "file name" of every exported function without a docstring. */
function withoutDocstring(file: string): string[] {
  const source = ts.createSourceFile(file, fileText(file), ts.ScriptTarget.ES2022, true);
  const found: string[] = [];
  for (const statement of source.statements) {
    const exported =
      ts.canHaveModifiers(statement) && ts.getModifiers(statement)?.some((m) => m.kind === ts.SyntaxKind.ExportKeyword);
    if (!exported || ts.getJSDocCommentsAndTags(statement).length > 0) continue;
    if (ts.isFunctionDeclaration(statement) && statement.name) found.push(`${file} ${statement.name.text}`);
    if (ts.isVariableStatement(statement))
      for (const d of statement.declarationList.declarations)
        if (
          ts.isIdentifier(d.name) &&
          d.initializer &&
          (ts.isArrowFunction(d.initializer) || ts.isFunctionExpression(d.initializer))
        )
          found.push(`${file} ${d.name.text}`);
  }
  return found;
}

describe('docstrings', () => {
  const missing = files.flatMap(withoutDocstring);
  it('no exported function of core is without one, but for those on the list', () => {
    expect(missing.filter((name) => !undocumented.includes(name))).toEqual([]);
  });
  it('whatever has got one, or is gone, is off the list', () => {
    expect(undocumented.filter((name) => !missing.includes(name))).toEqual([]);
  });
});
