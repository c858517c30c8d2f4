/* The one error domain of the program.
 *
 * A code says what the caller can do about it; the message says what happened,
 * in words for the person at the screen. The terminal command turns the code
 * into its exit status (see tpt_error_exit_status()).
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define TPT_ERROR (tpt_error_quark ())

/**
 * TptError:
 * @TPT_ERROR_DATA: the input was read and refused; nothing was written
 * @TPT_ERROR_USAGE: the request itself makes no sense (command line, form)
 * @TPT_ERROR_PROJECT: the project file cannot be used: missing, damaged, not ours
 * @TPT_ERROR_NEWER: the project file was written by a newer program; never touched
 * @TPT_ERROR_BUSY: the project file is locked by somebody else past the wait
 * @TPT_ERROR_CONFLICT: an undo or redo no longer fits what is on record
 * @TPT_ERROR_IO: a file or the disk failed
 * @TPT_ERROR_FAULT: a step failed on purpose, under test
 */
typedef enum {
  TPT_ERROR_DATA,
  TPT_ERROR_USAGE,
  TPT_ERROR_PROJECT,
  TPT_ERROR_NEWER,
  TPT_ERROR_BUSY,
  TPT_ERROR_CONFLICT,
  TPT_ERROR_IO,
  TPT_ERROR_FAULT,
} TptError;

GQuark tpt_error_quark (void);

/**
 * tpt_error_exit_status:
 * @error: (nullable): what went wrong
 *
 * Returns: the terminal's exit status for @error: 0 for %NULL, 2 for a wrong
 *   request, 3 when the project file cannot be used, 1 for everything else.
 */
int tpt_error_exit_status (const GError *error);

/**
 * tpt_fault_point:
 * @name: the step about to be taken, such as "write" or "step"
 * @error: return location
 *
 * Every step that writes (a file, a database statement) passes here first. In
 * production it does nothing. Under test the n-th passage fails, so that what
 * is left behind can be looked at: see tpt_fault_arm().
 *
 * Returns: %FALSE with %TPT_ERROR_FAULT when this step is to fail
 */
gboolean tpt_fault_point (const char *name, GError **error);

/**
 * tpt_fault_arm:
 * @countdown: fail the passage with this number, counting from 1; 0 disarms
 *
 * Also armed by the environment: TAPETUM_FAULT=n fails the n-th passage.
 */
void tpt_fault_arm (int countdown);

/* Passages since the last tpt_fault_arm(): how many steps a task has. */
int tpt_fault_count (void);

G_END_DECLS
