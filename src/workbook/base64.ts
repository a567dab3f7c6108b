/** Bytes in base64 (RFC 4648, section 4); a call for each stretch, because arguments are limited. */
export function toBase64(bytes: Uint8Array): string {
  let binary = '';
  for (let at = 0; at < bytes.length; at += 8_192)
    binary += String.fromCharCode(...bytes.subarray(at, at + 8_192));
  return btoa(binary);
}
