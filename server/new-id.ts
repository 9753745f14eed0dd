/** 144 random bits as 24 letters of base64url: a case's id is also its key, so it must not be guessable. */
export function newId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(18));
  return btoa(String.fromCharCode(...bytes))
    .replaceAll('+', '-')
    .replaceAll('/', '_');
}
