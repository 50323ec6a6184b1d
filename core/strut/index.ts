export * from './gas';
export * from './age';
export * from './springs';
export * from './buckling';
export * from './usual';
export * from './lists';
export * from './csv';
export * from './list-import';
