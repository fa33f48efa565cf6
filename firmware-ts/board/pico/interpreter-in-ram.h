/*
 * Included before every C file of the runtime (manifest.json, FP_OPTS): the interpreter's loop, 30 KB, goes into the section
 * that start-up copies into RAM. From flash its bytecodes wait for a 16 KB cache. The runtime knows no setting for this.
 */
#ifndef __ASSEMBLER__
struct sxMachine;
struct sxSlot;
__attribute__((section(".time_critical.fxRunID"))) extern void fxRunID(struct sxMachine *, struct sxSlot *, __INT32_TYPE__);
#endif
