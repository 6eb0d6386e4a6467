// What the engine gives: written from package cab, which tests it.
export * from "./answers";
