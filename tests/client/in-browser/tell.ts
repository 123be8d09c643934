/** To the test that opened the page. */
export async function tell(what: string, about: unknown): Promise<void> {
  await fetch(`/told/${what}`, { method: 'POST', body: JSON.stringify(about) });
}
