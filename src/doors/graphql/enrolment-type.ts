import type { Role } from '../../protocol/kind.ts';
import { SHORT_TEXT, text, id as uuid } from '../../protocol/primitives.ts';
import { Problem } from '../../protocol/problem.ts';
import { MOST_CODE_MINUTES } from '../../store/enrolment-secret.ts';
import { EVERY_ROLE } from '../authenticate.ts';
import { makeCode } from '../enrolment.ts';
import type { GraphTypes } from './types.ts';
import { WRITE_COST } from './write-parts.ts';

interface Made {
  readonly id: string;
  readonly code: string;
  readonly expiresAt: string;
}

const MAKERS: readonly Role[] = ['coordinator', 'admin'];

function readId(name: string, given: string | null | undefined): string | undefined {
  if (given == null || uuid.safeParse(given).success) return given ?? undefined;
  throw new Problem('unreadable_record', `/${name} is no UUID`, { pointer: `/${name}` });
}

function readLabel(label: string): string {
  if (text().safeParse(label).success) return label;
  throw new Problem('unreadable_record', `/label is a text of 1 to ${SHORT_TEXT} characters`, { pointer: '/label' });
}

function readMinutes(minutes: number | null | undefined): number | undefined {
  if (minutes == null || (minutes >= 1 && minutes <= MOST_CODE_MINUTES)) return minutes ?? undefined;
  throw new Problem('unreadable_record', `/minutes is 1 to ${MOST_CODE_MINUTES}`, { pointer: '/minutes' });
}

/** The mutation makeEnrolmentCode: the same as POST /v1/enrolment-codes. */
export function addEnrolment({ builder, values }: GraphTypes): void {
  const made = builder.objectRef<Made>('MadeEnrolmentCode').implement({
    description: 'A code with which a phone gets its token, once.',
    fields: (t) => ({
      id: t.exposeID('id'),
      code: t.exposeString('code', { description: 'Shown this once; the text of a QR code, too' }),
      expiresAt: t.exposeString('expiresAt'),
    }),
  });
  builder.mutationField('makeEnrolmentCode', (t) =>
    t.field({
      type: made,
      description:
        'Makes a code for the phone of a device on record, or of a crew and a person. Not repeated under a key.',
      args: {
        label: t.arg.string({ required: true, description: 'Whose phone, in words' }),
        role: t.arg({ type: values.enum('TokenRole', [...EVERY_ROLE]), description: 'CREW if missing' }),
        device: t.arg.id({ description: 'The device record that the phone is to speak for' }),
        crew: t.arg.id({ description: 'Instead: a device record of this crew is made when the code is used' }),
        person: t.arg.id({ description: 'The member at that new device' }),
        minutes: t.arg.int({ description: '15 if missing' }),
      },
      complexity: WRITE_COST,
      resolve: async (_root, args, g) => {
        if (!MAKERS.includes(g.actor.role)) {
          throw new Problem('forbidden', `the role ${g.actor.role} may not do this; ${MAKERS.join(' and ')} may`);
        }
        await g.reads.renew();
        return makeCode(g.ctx, g.actor, {
          label: readLabel(args.label),
          role: (args.role ?? undefined) as Role | undefined,
          device: readId('device', args.device),
          crew: readId('crew', args.crew),
          person: readId('person', args.person),
          minutes: readMinutes(args.minutes),
        });
      },
    }),
  );
}
