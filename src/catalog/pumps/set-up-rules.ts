/** A figure of common practice or of a document, which a plan may replace. */
export interface SetUpFigure {
  readonly value: string;
  readonly source: string;
  /** Read in its document. What has no document is not verified. */
  readonly verified: boolean;
}

function practice(value: string, what: string): SetUpFigure {
  return { value, source: `${what}: common practice, no source`, verified: false };
}

/** The defaults of a set-up; the event's plan goes before each of them. */
export const SET_UP_RULES = {
  /** From this depth on a pump that pushes is used: 26.9 ft is above it, 27.0 ft is not. */
  suctionBelowFt: practice('27', 'suction only where the lift is less than 27 ft'),
  allowancePsi: practice('10', 'allowance over the water column for a bladder pump'),
  firstRefillS: practice('10', 'first cycle, refill'),
  firstDischargeS: practice('5', 'first cycle, discharge'),
  firstFlowMlPerMin: practice('200', 'flow that 10 to 20 ft of water over the depth of the pump roughly gives'),
  /** Below this submergence the bladder fills slowly, by the head of the water alone. */
  slowRefillBelowFt: {
    value: '5',
    source: 'a bladder refills by the head of the water only: physics; about 5 ft from memory',
    verified: false,
  },
} as const satisfies Readonly<Record<string, SetUpFigure>>;
