// Loaded before a server that is measured: ends it when the run that started it is gone, and answers its questions.
import { startProfile, stopProfile } from './profile/agent.ts';

process.on('disconnect', () => process.kill(process.pid, 'SIGTERM'));

async function answer(message: unknown): Promise<unknown> {
  if (message === 'profile-start') return startProfile();
  if (message === 'profile-stop') return stopProfile();
  return null;
}

process.on('message', (message) => {
  void answer(message).then(
    (result) => process.send?.(result ?? null),
    (error: unknown) => process.send?.({ error: String(error) }),
  );
});
// The line to the run alone does not keep a server alive that wants to end.
process.channel?.unref();
