// No text of the product uses a phrase that was given up for another: everything a person can read on screen, on paper
// or from the command stands in the source as text between tags or as a string, and is read here.
import { readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';

const ROOT = path.resolve(import.meta.dirname, '../..');

interface Text {
  readonly at: string;
  readonly text: string;
}

/** Whether a string is the name of something in code (a key, a path, a class) rather than something to read. */
const codeOnly = (text: string): boolean => !/\s/.test(text) && !/^[A-Z“]/.test(text);
const SILENT = new Set(['className', 'id', 'htmlFor', 'key', 'type', 'name', 'd', 'role']);

function textsOf(file: string, source: string): Text[] {
  const tree = ts.createSourceFile(file, source, ts.ScriptTarget.Latest, true);
  const texts: Text[] = [];
  const note = (node: ts.Node, text: string): void => {
    const line = tree.getLineAndCharacterOfPosition(node.getStart()).line + 1;
    texts.push({ at: `${file}:${line}`, text: text.replace(/\s+/g, ' ').trim() });
  };
  const walk = (node: ts.Node): void => {
    if (ts.isImportDeclaration(node) || ts.isExportDeclaration(node) || ts.isLiteralTypeNode(node)) return;
    if (ts.isJsxAttribute(node) && SILENT.has(node.name.getText())) return;
    if (ts.isJsxText(node) && node.text.trim() !== '') note(node, node.text);
    else if (ts.isTemplateExpression(node)) {
      const text = [node.head.text, ...node.templateSpans.map((s) => s.literal.text)].join('…');
      if (!codeOnly(text)) note(node, text);
    } else if (ts.isStringLiteralLike(node) && !codeOnly(node.text)) note(node, node.text);
    ts.forEachChild(node, walk);
  };
  walk(tree);
  return texts;
}

const read = (folders: readonly string[]): Text[] =>
  folders
    .flatMap((folder) =>
      readdirSync(path.join(ROOT, folder), { recursive: true, encoding: 'utf8' }).map((f) => path.join(folder, f)),
    )
    .filter((f) => /\.(tsx?|mjs)$/.test(f) && !f.endsWith('.d.ts'))
    .flatMap((file) => textsOf(file, readFileSync(path.join(ROOT, file), 'utf8')));

/** The guide's paragraphs, what stands as code left out; the glossary tells names in code. */
const guide = (): Text[] =>
  readdirSync(path.join(ROOT, 'docs'))
    .filter((file) => file.endsWith('.md') && file !== 'glossary.md')
    .flatMap((file) =>
      readFileSync(path.join(ROOT, 'docs', file), 'utf8')
        .replace(/```[^]*?```/g, '')
        .split(/\n\s*\n|\n(?=[-|#]|\d+\. )/)
        .map((text) => ({ at: `docs/${file}`, text: text.replace(/`[^`]*`|<[^>]*>/g, '').trim() })),
    );

/** What may not be said, why not or what is said instead, and where it may stand all the same. */
const GIVEN_UP: readonly { readonly phrase: RegExp; readonly instead: string; readonly but?: RegExp }[] = [
  { phrase: /\brelations?\b/i, instead: 'what must hold, a condition' },
  { phrase: /\b\d+\/\d+-\d+-\d+\b|…\/…-…-…/, instead: '“660 long, 300 stroke, rod 10”' },
  { phrase: /^Fit$/, instead: 'Show all, Use this strut' },
  { phrase: /^Fill$/, instead: 'Enlarge' },
  { phrase: /\bphoto’s strength\b|^Strength of …$/, instead: 'Opacity' },
  { phrase: /^Leave( it)?$/, instead: 'Cancel' },
  {
    phrase: /^(Take (away|off)|Drop|Throw (it )?away|Leave (it )?out)$|\b(throw|take) (it|them|one of them) away\b/i,
    instead: 'Remove',
  },
  {
    phrase: /^Demand it$|^Take (it|them) in|^Set that stem$|^Take that surface$|^Take it into/,
    instead: 'Add, Apply, Use this',
  },
  {
    phrase: /\b(starboard|aft)\b|\bto port\b|\bport (side|hinge|pin|corner)\b|\bbow\b/i,
    instead: 'left, right, front, back',
    but: /^core\/quantity\/sides|boat/i,
  },
  { phrase: /\b(rear|front) view\b|\bside, top (and|or) (rear|front)\b/i, instead: 'from behind' },
  { phrase: /\bhinge [AB]\b/i, instead: 'the names that were given' },
  { phrase: /\bat nowhere\b|\bstays nowhere\b/i, instead: 'Never falls by itself. Does not stay part-open.' },
  { phrase: /\bDone in\b/, instead: 'Load case' },
  { phrase: /must do it here too/i, instead: 'This case counts when choosing' },
  { phrase: /where nothing is said/i, instead: 'Assumed values' },
  { phrase: /all load cases alike/i, instead: 'All load cases' },
  { phrase: /\blately\b/i, instead: 'Recent' },
  { phrase: /^Turned( …)?$/, instead: 'Rotation' },
  { phrase: /\bodds\b/i, instead: 'Likelihood' },
  {
    phrase: /\bfrom memory\b|\blooked up\b|\bsecondary\b/i,
    instead: 'not checked against the standard’s text, from dealers’ tables',
  },
  { phrase: /against a wall/i, instead: 'upright, rod down, guided, stand beside it' },
  { phrase: /\bstems?\b/i, instead: 'the ball stud, its axis' },
  { phrase: /\b(lid|when|while|held|stays|is) shut\b/i, instead: 'closed' },
];

/** Each phrase that was given up and is said all the same. */
const said = (texts: readonly Text[]): string[] =>
  texts.flatMap(({ at, text }) =>
    GIVEN_UP.filter(({ phrase, but }) => phrase.test(text) && !(but?.test(at) || but?.test(text))).map(
      ({ instead }) => `${at}: “${text}” → ${instead}`,
    ),
  );

describe('texts', () => {
  it('say nothing that was given up', () => {
    const texts = [...read(['core', 'renderer', 'electron', 'scripts']), ...guide()];
    expect(texts.length).toBeGreaterThan(5000);
    expect(said(texts)).toEqual([]);
  });
  it('are found where they stand', () => {
    const source = "const a = <p title={`${b} in the rear view`}>Take away<i className='stem' /></p>; use('stem');";
    expect(said(textsOf('a.tsx', source)).map((line) => line.replace(/^.*→ /, ''))).toEqual(['from behind', 'Remove']);
    expect(said(textsOf('a.tsx', '<p>Leave it</p>')).length).toBe(1);
  });
});
