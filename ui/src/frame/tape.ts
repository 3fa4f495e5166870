import type { SeverityName } from '../parts/finding';

/** One figure of the tape. */
export interface TapeFigure {
  /** which one, for "why" */
  id: string;
  figure: string;
  unit: string;
  /** the word under it */
  word: string;
  /** whether it can be asked why */
  asks: boolean;
}

/** How many findings there are, and how bad the worst is. */
export interface TapeFindings {
  count: number;
  worst: SeverityName | null;
  /** the word beside the count; without it "findings" */
  word?: string;
}
