import type { TimeWindow } from '../svg/time-axis.ts';

/** Measures of the page, in pixels at its own size. */
export const PAGE = {
  width: 1_200,
  margin: 16,
  groupLeft: 16,
  labelLeft: 104,
  plotLeft: 226,
  plotRight: 1_180,
  headHeight: 84,
  laneHeight: 16,
  barHeight: 10,
  groupGap: 8,
  legendHeight: 20,
  letters: 11,
  smallLetters: 10,
  leastBar: 4,
  markHalf: 4.5,
} as const;

/** Places on the page for times of a window. */
export class Scale {
  readonly #window: TimeWindow;

  constructor(window: TimeWindow) {
    this.#window = window;
  }

  /** What lies outside of the window stands at its edge. */
  x(ms: number): number {
    const { fromMs, untilMs } = this.#window;
    const part = (Math.min(Math.max(ms, fromMs), untilMs) - fromMs) / (untilMs - fromMs);
    return PAGE.plotLeft + part * (PAGE.plotRight - PAGE.plotLeft);
  }
}
