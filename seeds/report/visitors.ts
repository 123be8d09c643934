import type { EnteredFirm } from '../play/enter-firm.ts';
import { FAILED_BLANK } from '../play/laboratory.ts';
import type { Phone } from '../play/phone.ts';
import { quoted } from './quoted.ts';

/** A request to try that changes nothing. */
export interface Trial {
  readonly what: string;
  readonly path: string;
  readonly body?: object;
}

/** A kind of user, with a token of the demo and requests to begin with. */
export interface Visitor {
  readonly who: string;
  /** Null where none is asked for. */
  readonly token: string | null;
  readonly trials: readonly Trial[];
}

function graphql(event: string): object {
  const status = 'status { totals { wells { planned sampled purging } } crews { name inTouch { unsentCount } } }';
  return { query: `{ event(id: "${event}") { name standing ${status} } }` };
}

export function visitors(entered: EnteredFirm, phone: Phone): Visitor[] {
  const { id, event } = entered;
  const nested = { well: id('well', 'MW-4S'), depthToBottomFt: '61.6' };
  const earlier = `depthToWaterFt=13.60&exceptEvent=${event}`;
  return [
    {
      who: 'anyone',
      token: null,
      trials: [{ what: 'the reference of the API, for a browser', path: '/v1/reference/' }],
    },
    {
      who: `crew (${phone.label} of the North crew)`,
      token: phone.token,
      trials: [
        { what: 'the feeds that this phone follows', path: '/v1/sync/feeds' },
        { what: 'the event, from nothing', path: `/v1/sync/feeds/event:${event}/rows?limit=5` },
        { what: 'which well of the nest was sounded?', path: '/v1/questions/which-well', body: nested },
        { what: 'what was done at MW-4D last round?', path: `/v1/wells/${id('well', 'MW-4D')}/last-round?${earlier}` },
      ],
    },
    {
      who: 'coordinator',
      token: entered.coordinatorToken,
      trials: [
        { what: 'how the event stands', path: `/v1/events/${event}/status` },
        { what: 'open flags', path: '/v1/flags?standing=raised' },
        { what: 'open conflicts', path: '/v1/conflicts?standing=open' },
        { what: 'what was set aside', path: '/v1/set-asides' },
        { what: 'where each unit stands', path: '/v1/unit-states?limit=50' },
        { what: 'the life of a pump, as a picture', path: `/v1/units/${id('unit', 'Bladder pump 1')}/timeline.svg` },
        { what: 'what is behind the blank that failed', path: `/v1/blanks/${id('blank', FAILED_BLANK)}/samples` },
        { what: 'what must leave today', path: `/v1/events/${event}/must-leave` },
        { what: 'how complete the samples are', path: `/v1/events/${event}/completeness` },
        { what: 'pH of MW-1 over its rounds', path: `/v1/wells/${id('well', 'MW-1')}/rounds?quantity=ph` },
      ],
    },
    {
      who: 'dashboard',
      token: entered.dashboardToken,
      trials: [
        { what: 'how the event stands', path: `/v1/events/${event}/status` },
        { what: 'the same reads in GraphQL', path: '/graphql', body: graphql(event) },
      ],
    },
    {
      who: 'laboratory',
      token: entered.laboratoryToken,
      trials: [
        { what: 'what it was sent, as it is told', path: `/v1/laboratory/events/${event}/list.csv` },
        { what: 'what is ordered of it', path: `/v1/laboratory/events/${event}/orders` },
        { what: 'what does not agree', path: `/v1/laboratory/events/${event}/discrepancies` },
      ],
    },
    {
      who: 'admin',
      token: entered.adminToken,
      trials: [
        { what: 'the tokens, without their secrets', path: '/v1/tokens' },
        { what: 'the people', path: '/v1/members' },
      ],
    },
  ];
}

function curl(token: string | null, { path, body }: Trial): string {
  const auth = token === null ? '' : ' -H "authorization: Bearer $TOKEN"';
  const sent = body === undefined ? '' : ` -H 'content-type: application/json' -d ${quoted(JSON.stringify(body))}`;
  return `curl -s "$URL${path}"${auth}${sent}`;
}

/** Addresses, tokens and lines to copy. */
export function visitorLines(base: string, all: readonly Visitor[]): string[] {
  return all.flatMap(({ who, token, trials }) => [
    '',
    `As ${who}`,
    `  export URL=${base}${token === null ? '' : ` TOKEN=${token}`}`,
    ...trials.flatMap((trial) => [`  # ${trial.what}`, `  ${curl(token, trial)}`]),
  ]);
}

function requestOf(token: string | null, { body }: Trial): RequestInit {
  const auth: Record<string, string> = token === null ? {} : { authorization: `Bearer ${token}` };
  if (body === undefined) return { headers: auth };
  return { headers: { ...auth, 'content-type': 'application/json' }, method: 'POST', body: JSON.stringify(body) };
}

/** Tries every line that is printed; what does not answer is not worth printing. */
export async function assertAnswered(base: string, all: readonly Visitor[]): Promise<void> {
  for (const { who, token, trials } of all) {
    for (const trial of trials) {
      const { path } = trial;
      const answer = await fetch(base + path, requestOf(token, trial));
      const text = await answer.text();
      if (answer.status === 200 && !text.includes('"errors":[')) continue;
      throw new Error(`${path}, asked as ${who}, was answered with ${answer.status}: ${text.slice(0, 500)}`);
    }
  }
}
