// Names of the messages between page and main. No other ones exist.

/** What the page may ask, with an answer. */
export const ASKS = [
  'openJob',
  'recent',
  'openRecent',
  'saveJob',
  'saveJobAs',
  'presentDigest',
  'exportFile',
  'readAsset',
  'readBeside',
  'missingPictures',
  'putDraft',
  'listDrafts',
  'draftPicture',
  'dropDraft',
  'listening',
  'closeAnswer',
] as const;

export type Ask = (typeof ASKS)[number];

/** What main tells the page. */
export const TELLS = ['askClose', 'openAsked', 'command'] as const;

export type Tell = (typeof TELLS)[number];

export const channelOf = (name: Ask | Tell): string => `lidwright:${name}`;
