// The house's arrows as a lint rule: who may import whom. It follows `import type` too, because a type is a dependency.
import path from 'node:path';

/** Each room and the rooms it may import from (itself is always allowed). Order: ground floor first. */
export const ROOMS = {
  'core/error': [],
  'core/space': ['core/error'],
  'core/quantity': ['core/error'],
  'core/solve': ['core/error'],
  'core/table': ['core/error'],
  'core/strut': ['core/error', 'core/space', 'core/quantity', 'core/table'],
  'core/drawing': ['core/error', 'core/space', 'core/quantity'],
  'core/solid': ['core/error', 'core/space'],
  'core/job': ['core/error', 'core/space', 'core/quantity', 'core/strut'],
  'core/joint': ['core/error', 'core/space', 'core/solid', 'core/job'],
  'core/photo': ['core/error', 'core/space', 'core/quantity', 'core/solve', 'core/job'],
  'core/bracket': ['core/error', 'core/space', 'core/solid', 'core/joint', 'core/job'],
  'core/travel': ['core/error', 'core/space', 'core/quantity', 'core/strut', 'core/joint', 'core/job'],
  'core/demands': [],
  'core/findings': [
    'core/error',
    'core/demands',
    'core/space',
    'core/solid',
    'core/quantity',
    'core/strut',
    'core/joint',
    'core/job',
    'core/bracket',
    'core/strength',
    'core/clearance',
    'core/travel',
  ],
  'core/advice': [
    'core/error',
    'core/space',
    'core/quantity',
    'core/strut',
    'core/job',
    'core/travel',
    'core/demands',
    'core/findings',
  ],
  'core/workings': [
    'core/error',
    'core/quantity',
    'core/job',
    'core/bracket',
    'core/strength',
    'core/travel',
    'core/findings',
    'core/advice',
  ],
  'core/result': ['core/error', 'core/job', 'core/travel', 'core/findings', 'core/workings'],
  'core/survey': [
    'core/error',
    'core/space',
    'core/quantity',
    'core/solve',
    'core/table',
    'core/photo',
    'core/job',
    'core/travel',
  ],
  'core/weigh': [
    'core/error',
    'core/space',
    'core/quantity',
    'core/strut',
    'core/solve',
    'core/table',
    'core/job',
    'core/travel',
  ],
  'core/choose': [
    'core/error',
    'core/demands',
    'core/space',
    'core/quantity',
    'core/strut',
    'core/job',
    'core/travel',
    'core/findings',
    'core/workings',
  ],
  'core/find': [
    'core/error',
    'core/demands',
    'core/space',
    'core/quantity',
    'core/strut',
    'core/joint',
    'core/job',
    'core/travel',
    'core/findings',
    'core/workings',
    'core/survey',
    'core/choose',
    'core/bracket',
    'core/strength',
  ],
  'core/need': ['core/error', 'core/demands', 'core/space', 'core/quantity', 'core/job', 'core/travel'],
  'core/start': [
    'core/error',
    'core/space',
    'core/quantity',
    'core/photo',
    'core/job',
    'core/travel',
    'core/workings',
    'core/find',
  ],
  'core/clearance': ['core/error', 'core/space', 'core/solid', 'core/job', 'core/travel'],
  'core/prove': [
    'core/error',
    'core/space',
    'core/quantity',
    'core/solve',
    'core/strut',
    'core/job',
    'core/travel',
    'core/findings',
    'core/workings',
  ],
  'core/strength': ['core/error', 'core/space', 'core/job', 'core/joint', 'core/bracket', 'core/travel'],
  'core/papers': [
    'core/error',
    'core/space',
    'core/solid',
    'core/quantity',
    'core/table',
    'core/strut',
    'core/job',
    'core/travel',
    'core/findings',
    'core/workings',
    'core/find',
    'core/bracket',
    'core/strength',
    'core/choose',
    'core/survey',
    'core/prove',
    'core/joint',
    'core/drawing',
  ],
  'renderer/host': ['core/error', 'core/job'],
  'renderer/style': [],
  'renderer/workers': ['core'],
  'renderer/photo': ['core', 'renderer/host', 'renderer/workers'],
  'renderer/state': ['core', 'renderer/host', 'renderer/workers', 'renderer/photo'],
  'renderer/ui': ['core', 'renderer/state'],
  'renderer/views': ['core', 'renderer/host', 'renderer/photo', 'renderer/state', 'renderer/ui'],
  'renderer/stages': [
    'core',
    'renderer/style',
    'renderer/host',
    'renderer/photo',
    'renderer/state',
    'renderer/ui',
    'renderer/views',
  ],
  'renderer/bench': ['core', 'renderer/host', 'renderer/state', 'renderer/ui'],
  'renderer/guide': ['renderer/state', 'scripts/lib'],
  'renderer/start': ['core', 'renderer/host', 'renderer/state', 'renderer/ui'],
  renderer: [
    'core',
    'renderer/style',
    'renderer/host',
    'renderer/bench',
    'renderer/stages',
    'renderer/start',
    'renderer/guide',
    'renderer/views',
    'renderer/state',
  ],
  electron: ['core', 'renderer/host'],
  tests: ['core', 'renderer', 'electron', 'scripts'],
  scripts: ['core', 'electron'],
};

const names = Object.keys(ROOMS).sort((a, b) => b.length - a.length);
const roomOf = (file) => names.find((name) => file === name || file.startsWith(name + '/'));
const PURE_BANNED = /^(node:|electron$|react|konva|three$|three\/|uplot|zustand)/;

const arrows = {
  meta: {
    type: 'problem',
    schema: [],
    messages: {
      arrow:
        '{{from}} may not import from {{to}}: arrows point down (see DEVELOPERS.md). Pass the value in, or move the code to the lower room.',
      pure: 'core is pure: "{{to}}" belongs to renderer/ or electron/. Pass what is needed as an argument.',
      unknown: '{{from}} is no room of the house: name it in scripts/lint/house.mjs with the rooms it may import from.',
    },
  },
  create(context) {
    const root = context.cwd;
    const file = path.relative(root, context.filename).split(path.sep).join('/');
    const from = roomOf(file);
    if (!file.includes('/')) return {};
    const check = (node) => {
      const source = node.source;
      if (!source || typeof source.value !== 'string') return;
      const to = source.value;
      if (!from) return context.report({ node: source, messageId: 'unknown', data: { from: file } });
      if (!to.startsWith('.')) {
        if (file.startsWith('core/') && PURE_BANNED.test(to))
          context.report({ node: source, messageId: 'pure', data: { to } });
        return;
      }
      const target = path.posix.normalize(path.posix.join(path.posix.dirname(file), to.replace(/\?.*$/, '')));
      if (!target.includes('/') || target.startsWith('node_modules/')) return;
      if (target.startsWith('assets/')) return;
      const toRoom = roomOf(target);
      if (toRoom === from) return;
      const allowed = ROOMS[from].some((room) => target === room || target.startsWith(room + '/'));
      if (!allowed) context.report({ node: source, messageId: 'arrow', data: { from, to: toRoom ?? target } });
    };
    return {
      ImportDeclaration: check,
      ExportNamedDeclaration: check,
      ExportAllDeclaration: check,
      ImportExpression: check,
    };
  },
};

/** Conversions between units, and what reads typed quantities: kept once, in core/quantity. */
const UNIT_NUMBER = /^(9\.8|9\.80?66?5?|4\.448\d*|25\.4|304\.8|0\.453\d*|0\.0254|2\.20462\d*)$/;

const units = {
  meta: {
    type: 'problem',
    schema: [],
    messages: {
      number: '{{raw}} converts units: take it from core/quantity, which holds each such number once.',
      parser: 'Typed quantities are read by core/quantity alone: call evaluateQuantity or readScale.',
    },
  },
  create(context) {
    const file = path.relative(context.cwd, context.filename).split(path.sep).join('/');
    if (!/^(core|renderer|electron)\//.test(file) || file.startsWith('core/quantity/')) return {};
    return {
      Literal(node) {
        if (typeof node.value === 'number' && UNIT_NUMBER.test(node.raw))
          context.report({ node, messageId: 'number', data: { raw: node.raw } });
      },
      ImportDeclaration(node) {
        if (node.source.value === 'mathjs') context.report({ node, messageId: 'parser' });
      },
    };
  },
};

const writer = {
  meta: {
    type: 'problem',
    schema: [],
    messages: {
      write: 'Only renderer/state/ writes the stores: call one of its named actions, or add one there.',
    },
  },
  create(context) {
    const file = path.relative(context.cwd, context.filename).split(path.sep).join('/');
    if (!file.startsWith('renderer/') || file.startsWith('renderer/state/')) return {};
    return {
      CallExpression(node) {
        if (node.callee.property?.name === 'setState') context.report({ node, messageId: 'write' });
      },
    };
  },
};

export default { meta: { name: 'house' }, rules: { arrows, units, writer } };
