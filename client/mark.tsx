import { MARKS, type MarkName } from './marks.ts';

export const Mark = ({ is }: { is: MarkName }) => (
  <svg class="mark" viewBox="0 0 12 12" aria-hidden="true">
    <path d={MARKS[is]} fill-rule="evenodd" />
  </svg>
);
