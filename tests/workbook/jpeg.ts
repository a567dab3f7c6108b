/** As much of a JPEG as names its size: start, an application segment, the frame header, end (ITU-T T.81, annex B). */
export function jpeg(width: number, height: number, filling = 0): string {
  const word = (value: number) => [value >> 8, value & 0xff];
  const bytes = [
    ...[0xff, 0xd8, 0xff, 0xe0, ...word(16), 0x4a, 0x46, 0x49, 0x46, 0, 1, 1, 0, 0, 1, 0, 1, 0, 0],
    ...[0xff, 0xc0, ...word(11), 8, ...word(height), ...word(width), 1, 1, 0x11, 0],
    ...Array.from({ length: filling }, () => 0),
    ...[0xff, 0xd9],
  ];
  return Buffer.from(bytes).toString('base64');
}
