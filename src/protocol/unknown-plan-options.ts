import type { z } from 'zod';
import { eventPlan } from './event-plan.ts';

function pathsOf(issue: z.core.$ZodIssue): readonly (readonly PropertyKey[])[] {
  return issue.code === 'unrecognized_keys' ? issue.keys.map((key) => [...issue.path, key]) : [issue.path];
}

/**
 * What a plan says that this version does not know: options, or values of options that it knows. The server of a newer
 * version judges a purge by them, so whatever is worked out here may differ from what it will say.
 *
 * @returns JSON Pointers into the plan; none where all of it is known
 */
export function unknownPlanOptions(plan: unknown): string[] {
  const issues = eventPlan.safeParse(plan).error?.issues ?? [];
  const paths = issues.flatMap(pathsOf);
  return [...new Set(paths.map((path) => path.map((part) => `/${String(part)}`).join('')))].sort();
}
