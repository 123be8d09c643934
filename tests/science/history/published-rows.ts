/** US EPA, Unified Guidance, EPA 530/R-09-007, 2009, Example 17-6: sulfate in ppm, as printed: year, point, month digit. */
const SULFATE_AS_PRINTED =
  '89.6 480 89.8 450 90.1 490 90.3 520 90.6 485 90.8 510 91.1 510 91.3 530 91.6 510 91.8 560 92.1 560 92.6 540 93.1 590 93.6 550 94.1 600 94.6 700 95.1 570 95.6 610 95.8 650 96.1 620 96.3 830 96.6 720 96.8 590';

const tokens = SULFATE_AS_PRINTED.split(' ');
export const SULFATE = tokens.flatMap((token, at) => {
  if (at % 2 === 1) return [];
  const [year, month] = token.split('.');
  return [{ printed: Number(token), date: `19${year}-0${month}-01T00:00:00Z`, ppm: Number(tokens[at + 1]) }];
});

/** The same, Example 14-10: 36 monthly values, January 1983 to December 1985. */
export const MONTHLY = [
  1.99, 2.1, 2.12, 2.12, 2.11, 2.15, 2.19, 2.18, 2.16, 2.08, 2.05, 2.08, 2.01, 2.1, 2.17, 2.13, 2.13, 2.18, 2.25, 2.24,
  2.22, 2.13, 2.08, 2.16, 2.15, 2.17, 2.27, 2.23, 2.24, 2.26, 2.31, 2.32, 2.28, 2.22, 2.19, 2.22,
];

/** The same, Examples 12-1 and 12-3: carbon tetrachloride in ppb. */
export const CARBON_TETRACHLORIDE = [
  1.7, 3.2, 7.3, 12.1, 302, 35.1, 15.6, 13.7, 16.2, 7066, 350, 70.1, 199, 41.6, 75.4, 57.9, 275, 6.5, 59.7, 68.4,
];

/** The same, Example 12-4: naphthalene in ppb. */
export const NAPHTHALENE = [
  3.34, 5.39, 5.74, 6.88, 5.85, 5.59, 5.96, 1.47, 2.57, 5.39, 1.91, 1.74, 23.23, 1.82, 2.02, 6.12, 6.05, 5.18, 4.43,
  1.0, 8.64, 5.34, 5.53, 4.42, 35.45,
];
