/** The command cannot be carried out; nothing was stored. The message says why and what to do. */
export class CrewError extends Error {
  constructor(message: string) {
    super(message);
    this.name = 'CrewError';
  }
}
