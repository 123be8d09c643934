/**
 * Statements that are on their way in one transaction. They run in the order in which they were made; after one has
 * failed, all that follow fail too, so the first failure is the one that says why.
 */
export class Statements {
  readonly #sent: Promise<unknown>[] = [];

  add(statement: Promise<unknown>): void {
    // a failure is thrown by done(); until that is asked, nobody else listens
    statement.catch(() => undefined);
    this.#sent.push(statement);
  }

  /** @throws what the first statement that failed said, once all are answered */
  async done(): Promise<void> {
    const results = await Promise.allSettled(this.#sent);
    const failed = results.find((result) => result.status === 'rejected');
    if (failed) throw failed.reason;
  }
}
