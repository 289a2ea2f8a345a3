/** The part of the Khronos glTF validator that the tests use; the package brings no types. */
declare module 'gltf-validator' {
  export interface Report {
    readonly issues: {
      readonly numErrors: number;
      readonly numWarnings: number;
      readonly messages: readonly { readonly code: string; readonly message: string; readonly severity: number; readonly pointer?: string }[];
    };
    readonly info: { readonly drawCallCount: number; readonly totalTriangleCount: number };
  }
  export function validateBytes(bytes: Uint8Array): Promise<Report>;
}
