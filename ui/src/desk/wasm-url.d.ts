// The address of the backend's wasm file; the build says which one it is.
declare module '#wasm-url' {
  const url: string;
  export default url;
}
