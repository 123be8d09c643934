import type { TypedPhone } from '../play/typed-phone.ts';
import { quoted } from './quoted.ts';

/** What a visitor may type to go on where the crew is; the last ones need the server. */
const COMMANDS = [
  ['how its open visit stands, and what waits to be sent', 'status'],
  ['MW-12 goes on: ph=7.01 temp=12.30 ..., Tab changes the two, done ends it', 'read MW-12'],
  ['what waits is sent, and the news comes', 'sync'],
  ['all that there is', 'help'],
] as const;

/** Lines to copy: from now on the visitor is the crew. */
export function goOnLines({ label, folder }: Pick<TypedPhone, 'label' | 'folder'>): string[] {
  return [
    '',
    `As the West crew, at ${label}, in another shell; MW-12 is still being purged`,
    `  export CREW_FOLDER=${quoted(folder)}`,
    ...COMMANDS.flatMap(([what, command]) => [`  # ${what}`, `  npm run crew -- ${command}`]),
  ];
}
