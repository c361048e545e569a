// A screenshot made small enough to keep beside the text that shows it: the same picture in 256 colours at most.
// The page has three inks on one paper, so nothing is lost that an eye would miss. Format: W3C PNG, third edition.
import { deflateSync, inflateSync } from "node:zlib";

const kSignature = Buffer.from("89504e470d0a1a0a", "hex");

interface Picture { width: number; height: number; channels: number; pixels: Buffer }

function crc32(bytes: Buffer): number {
  let crc = ~0;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit += 1) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0);
  }
  return ~crc >>> 0;
}

function chunk(name: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(name, "latin1"), data]);
  const framed = Buffer.alloc(body.length + 8);
  framed.writeUInt32BE(data.length, 0);
  body.copy(framed, 4);
  framed.writeUInt32BE(crc32(body), body.length + 4);
  return framed;
}

function* chunks(png: Buffer): Generator<{ name: string; data: Buffer }> {
  for (let at = kSignature.length; at < png.length; ) {
    const length = png.readUInt32BE(at);
    yield { name: png.toString("latin1", at + 4, at + 8), data: png.subarray(at + 8, at + 8 + length) };
    at += length + 12;
  }
}

/** Of the three neighbours the one nearest to their plane (section 9.4 of the standard). */
function paeth(left: number, up: number, corner: number): number {
  const [a, b, c] = [Math.abs(up - corner), Math.abs(left - corner), Math.abs(left + up - 2 * corner)];
  return a <= b && a <= c ? left : b <= c ? up : corner;
}

function unfiltered(filter: number, left: number, up: number, corner: number): number {
  return [0, left, up, (left + up) >> 1, paeth(left, up, corner)][filter]!;
}

/** Reads what a browser writes: eight bits a channel, with or without alpha, not interlaced. */
function decoded(png: Buffer): Picture {
  const all = [...chunks(png)];
  const header = all.find((c) => c.name === "IHDR")!.data;
  const [width, height] = [header.readUInt32BE(0), header.readUInt32BE(4)];
  if (header[8] !== 8 || header[12] !== 0 || ![2, 6].includes(header[9]!)) throw new Error("not a screenshot of a browser");
  const channels = header[9] === 6 ? 4 : 3;
  const raw = inflateSync(Buffer.concat(all.filter((c) => c.name === "IDAT").map((c) => c.data)));
  const row = width * channels;
  const pixels = Buffer.alloc(row * height);
  for (let y = 0; y < height; y += 1) {
    const filter = raw[y * (row + 1)]!;
    for (let x = 0; x < row; x += 1) {
      const at = y * row + x;
      const left = x >= channels ? pixels[at - channels]! : 0;
      const up = y > 0 ? pixels[at - row]! : 0;
      const corner = x >= channels && y > 0 ? pixels[at - row - channels]! : 0;
      pixels[at] = raw[y * (row + 1) + 1 + x]! + unfiltered(filter, left, up, corner);
    }
  }
  return { width, height, channels, pixels };
}

/** The colours that stand for all, each the commonest of its neighbourhood, and which of them each pixel takes. */
function inFewColours({ width, height, channels, pixels }: Picture, bits: number): { colours: number[]; indices: Buffer } {
  const near = (colour: number) => (colour >> (8 - bits)) & (0x10101 * ((1 << bits) - 1));
  const counts = new Map<number, number>();
  const colours = Array.from({ length: width * height }, (_, i) => pixels.readUIntBE(i * channels, 3));
  for (const colour of colours) counts.set(colour, (counts.get(colour) ?? 0) + 1);
  const chosen = new Map<number, number>();
  for (const [colour, count] of counts) if (count > (counts.get(chosen.get(near(colour)) ?? -1) ?? 0)) chosen.set(near(colour), colour);
  if (chosen.size > 256) return inFewColours({ width, height, channels, pixels }, bits - 1);
  const index = new Map([...chosen.keys()].map((key, i) => [key, i]));
  return { colours: [...chosen.values()], indices: Buffer.from(colours.map((colour) => index.get(near(colour))!)) };
}

/** The same picture as a PNG with a palette. */
export function smallPng(png: Buffer): Buffer {
  const picture = decoded(png);
  const { width, height } = picture;
  const { colours, indices } = inFewColours(picture, 6);
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  header.set([8, 3], 8); // eight bits, a palette
  const palette = Buffer.alloc(3 * colours.length);
  colours.forEach((colour, i) => palette.writeUIntBE(colour, 3 * i, 3));
  const rows = Array.from({ length: height }, (_, y) => Buffer.concat([Buffer.from([0]), indices.subarray(y * width, (y + 1) * width)]));
  return Buffer.concat([kSignature, chunk("IHDR", header), chunk("PLTE", palette), chunk("IDAT", deflateSync(Buffer.concat(rows), { level: 9 })), chunk("IEND", Buffer.alloc(0))]);
}
