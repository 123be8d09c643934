import type { StabilizationPlan } from '../../protocol/event-plan.ts';

/** Something that the published criteria leave open, and how it is decided here. */
export interface OpenWording {
  readonly question: string;
  readonly decided: string;
  readonly why: string;
  /** The options of an event's plan by which a firm decides otherwise; empty where we decide for everybody. */
  readonly options: readonly (keyof StabilizationPlan)[];
}

/**
 * Eighteen questions to which the guidance gives no answer, each with the answer that holds where an event's plan says
 * nothing. Where a choice could hide an unstable well, the default is the stricter one.
 */
export const OPEN_WORDING: readonly OpenWording[] = [
  {
    question: 'Is "plus or minus 0.1 pH" a total spread of 0.1, a band of 0.2, or steps of 0.1?',
    decided: 'What fits the wording of the set: total spread for Region 1, a band where limits are "plus or minus".',
    why: 'The set names its default and why; the assessment shows whether another reading would decide otherwise.',
    options: ['absoluteArithmetic', 'percentArithmetic'],
  },
  {
    question: 'Is 7.23 - 7.13 more than 0.1, as binary fractions say, and does exactly the tolerance pass?',
    decided: 'Figures are whole numbers of millionths, so it is 0.10; being at the tolerance is within it.',
    why: 'The meter shows decimals, and "within 0.1" includes 0.1.',
    options: [],
  },
  {
    question: 'Are readings rounded to the digits of the tolerance before they are compared?',
    decided: 'No: they are compared as entered. A plan may round a parameter first.',
    why: 'Rounding first let 9.21 and 9.08 agree within 0.1 (a Colorado state file, doc 794463, page 7).',
    options: ['parameters'],
  },
  {
    question: 'In which unit is a percentage of temperature taken?',
    decided: 'In degrees Celsius, whatever the meter shows; at 0 °C or below no percentage passes.',
    why: '3 % is 0.36 °C of 12 °C, and 0.89 °C of the same 53.6 °F (computed).',
    options: [],
  },
  {
    question: 'What if readings lie on both sides of a low-value threshold?',
    decided: 'Every reading must be below it. A plan may ask for the mean of the window instead.',
    why: 'The wording says "if three values are less than": all three.',
    options: ['lowValueStraddle'],
  },
  {
    question: 'Is a reading of exactly 0.5 mg/L or 5 NTU low?',
    decided: 'No. A plan may count it as low. Where the wording does say it ("at or below 100"), the wording holds.',
    why: '"Less than" does not include it, and the percentage is the stricter branch.',
    options: ['lowValueEquality'],
  },
  {
    question: 'Does "10 % or 0.2 mg/L, whichever is greater" ask for both?',
    decided: 'No: it is one tolerance, the greater; meeting either passes. A low-value switch is another thing.',
    why: 'The greater tolerance is met exactly when one of the two is.',
    options: [],
  },
  {
    question: 'Is an upper limit ("20 NTU or less") a criterion of stability?',
    decided: 'Only where the set says so, and then it is shown as a low value. A plan may set one besides.',
    why: 'A limit on a value says nothing of whether it still moves; a target belongs to the plan of the site.',
    options: ['parameters'],
  },
  {
    question: 'Are three stable readings two comparisons, or three comparisons four readings?',
    decided: 'Three readings. A plan may count comparisons.',
    why: 'The sets speak of readings.',
    options: ['count'],
  },
  {
    question: 'Must all parameters be stable in the same window?',
    decided: 'Yes. A plan may let each be stable at its own time since the last interruption.',
    why: 'The water is stable when all of it is.',
    options: ['windows'],
  },
  {
    question: 'What is a percentage of an ORP that crosses zero, or of a turbidity of zero or less?',
    decided: 'Nothing: it never passes. Absolute tolerances, low values and sensor floors still do.',
    why: 'A part of zero or of a negative number has no meaning; every set gives ORP in mV.',
    options: ['parameters'],
  },
  {
    question: 'What if readings come early, late, or around a cleaning, a change of flow or a swap?',
    decided:
      'The window takes the latest readings an interval apart, 30 s of grace, no gap over 30 min (or two intervals). ' +
      'What changes the water at the sensor restarts it: the first reading that counts comes one interval later, and ' +
      'the first reading of another meter only starts the clock. What happens after the last reading restarts nothing.',
    why: 'An extra reading is no harm; water or a sensor from before the change says nothing of after it.',
    options: [
      'minimumIntervalS',
      'graceS',
      'largestGapS',
      'turnover',
      'flowChangePercent',
      'afterInterruption',
      'whenUnknown',
    ],
  },
  {
    question: 'Is a steady water level, or the minimum purge volume, part of being stable?',
    decided: 'No, unless the set says so: both are reported beside it, with their numbers. A plan may require either.',
    why: 'Region 1 asks for them separately; some rules ask that the level be stable too.',
    options: ['drawdown', 'minimumPurge', 'whenUnknown'],
  },
  {
    question: 'Does a missing or over-range reading inside the window break it?',
    decided:
      'A reading that lacks a parameter is skipped for that parameter only, which must have been read with one of the ' +
      'latest two readings of the window. A figure over the range of the meter restarts its parameter.',
    why: 'A turbidity not taken says nothing; a turbidity over the range says that the water was not stable.',
    options: ['missing', 'overRange'],
  },
  {
    question: 'Which edition of a document holds?',
    decided: 'The one that the plan cites. Each edition is a set of its own and is never changed.',
    why: 'Turbidity counts as low below 1 NTU in 1996 and below 5 NTU in 2017.',
    options: [],
  },
  {
    question: 'What is a well volume, and what is one that cannot be computed?',
    decided:
      'The water in the casing from the static level to the bottom, without the filter pack; 5 % less is let pass. ' +
      'Where the records do not give one that is asked for, the well is not stable, and the assessment says what to record.',
    why: 'The documents count casing water; a bucket and a tape are no better than a few percent.',
    options: ['beforeFirstReading', 'betweenReadings', 'volumeGracePercent', 'pumpVolumeMl', 'whenUnknown'],
  },
  {
    question: 'From when do "two hours" count, and when must the crew choose?',
    decided: 'From the first reading; at the first reading at or past the limit, if the water was never stable before.',
    why: 'It is the first moment that every device has a place for; water that was stable once was stable in time.',
    options: ['limits'],
  },
  {
    question: 'What is "10 % of the reading range"?',
    decided: 'The range of the readings, largest minus smallest, is at most 10 % of their mean.',
    why: 'Nothing that moves is within 10 % of its own range, and nearly all is within 10 % of the scale of a meter.',
    options: ['percentArithmetic'],
  },
];
