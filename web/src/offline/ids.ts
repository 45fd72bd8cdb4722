/** A new identifier made on this device: 22 signs of A-Z a-z 0-9, about 131 random bits.
 *  getRandomValues works on plain http in a home network too, where randomUUID does not. */
export function newId(): string {
  const signs = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789';
  let id = '';
  while (id.length < 22) {
    for (const byte of crypto.getRandomValues(new Uint8Array(32))) {
      if (byte < 4 * signs.length && id.length < 22) id += signs[byte % signs.length];
    }
  }
  return id;
}
