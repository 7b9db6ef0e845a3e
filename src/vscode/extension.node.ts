export { activate } from './extension.ts';
