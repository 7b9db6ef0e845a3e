/** What the engine finds in one recording; it lives in `shared` because it crosses to the page as it is. */
export type * from '../../shared/analysis.ts';
