export * from './pull';
export * from './lifted';
export * from './proposal';
export * from './pulls-of-job';
export * from './pull-lines';
export * from './lifted-of-job';
export * from './edits';
export * from './scale-entry';
