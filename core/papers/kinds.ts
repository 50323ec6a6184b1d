/** Kinds of paper, in the order a list offers them. */
export const PAPER_KINDS = [
  'bracket',
  'cutting',
  'template',
  'place',
  'batten',
  'wedge',
  'sketch',
  'purchase',
  'shopping',
  'layout',
  'assembly',
  'report',
  'checklist',
] as const;
export type PaperKind = (typeof PAPER_KINDS)[number];

/** Those that a job has only once it can be worked out. */
export const WORKED_OUT_KINDS: readonly PaperKind[] = ['place', 'batten', 'layout', 'assembly', 'report', 'checklist'];

/** Ways a paper can be written. */
export const PAPER_FORMATS = ['pdf', 'svg', 'dxf', 'stl', '3mf', 'csv'] as const;
export type PaperFormatName = (typeof PAPER_FORMATS)[number];
