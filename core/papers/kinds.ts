/** Kinds of paper, in the order a list offers them. */
export const PAPER_KINDS = [
  'bracket',
  'cutting',
  'template',
  'wedge',
  'purchase',
  'layout',
  'report',
  'checklist',
] as const;
export type PaperKind = (typeof PAPER_KINDS)[number];

/** Ways a paper can be written. */
export const PAPER_FORMATS = ['pdf', 'svg', 'dxf'] as const;
export type PaperFormatName = (typeof PAPER_FORMATS)[number];
