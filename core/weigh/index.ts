export * from './pull';
export * from './lifted';
export * from './proposal';
