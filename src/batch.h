/* The terminal command: the same jobs as in the window, without a display. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/**
 * tpt_batch_main:
 * @argv: as given to the program
 * @handled: (out): %FALSE when the first argument is no command word, and the
 *   window should open
 *
 * Returns: the exit status: 0 done; 1 done in part or refused because of the
 *   data; 2 the command line is wrong; 3 the project file cannot be used
 */
int tpt_batch_main (int argc, char *argv[], gboolean *handled);

G_END_DECLS
