// What a page and Node both have beyond the language itself: all that core may take without being handed it.
declare class TextDecoder {
  constructor(label?: string, options?: { fatal?: boolean; ignoreBOM?: boolean });
  decode(bytes?: Uint8Array, options?: { stream?: boolean }): string;
}
declare class TextEncoder {
  encode(text?: string): Uint8Array<ArrayBuffer>;
}
declare function atob(base64: string): string;
declare function btoa(bytes: string): string;
