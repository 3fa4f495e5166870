// Made by `cargo xtask codegen` from the desk's list of commands. Do not edit.
export interface Commands {}
export interface ByteCommands {}
export interface ComputeCommands {}
export interface ComputeByteCommands {}
