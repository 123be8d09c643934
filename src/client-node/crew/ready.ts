import { CrewError } from './crew-error.ts';
import { theCrew, theEvent } from './find.ts';
import type { Crew } from './open-crew.ts';

async function whatIsAmiss(work: () => Promise<unknown>): Promise<string[]> {
  try {
    await work();
    return [];
  } catch (error) {
    if (error instanceof CrewError) return [error.message];
    throw error;
  }
}

/** What a device needs before anything is recorded on it, all that is missing at once. */
export async function mustBeReady(crew: Crew): Promise<void> {
  const { person } = await crew.client.identity();
  const who = person === null ? ['nobody is at this device: crew who --reads INITIALS --writes INITIALS'] : [];
  const missing = [...who, ...(await whatIsAmiss(() => theCrew(crew))), ...(await whatIsAmiss(() => theEvent(crew)))];
  if (missing.length === 1) throw new CrewError(missing[0] ?? '');
  if (missing.length > 0) throw new CrewError(`nothing can be recorded yet:\n  ${missing.join('\n  ')}`);
}
