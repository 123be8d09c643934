/**
 * What begins the reason of all that a plan drops by itself. What a person dropped has another reason, and no later plan
 * takes it up again.
 */
const BY_THE_PLAN = 'By the plan: ';

export function becausePlan(reason: string): string {
  return `${BY_THE_PLAN}${reason}`;
}

export function isDroppedByPlan(because: string | null | undefined): boolean {
  return because?.startsWith(BY_THE_PLAN) ?? false;
}
