/* The program's window: one project, its pages, and what can be done with it.
 *
 * Actions for its children: "win.toast" (s) says what was changed and offers to
 * undo it; "win.say" (s) says what was done without changing the project;
 * "win.complain" (s) says what failed; "win.undo", "win.redo";
 * "win.show-station" (s) goes to a station on the field page.
 */
#pragma once

#include <adwaita.h>

#include "tpt-project.h"

G_BEGIN_DECLS

#define TPT_TYPE_WINDOW (tpt_window_get_type ())
G_DECLARE_FINAL_TYPE (TptWindow, tpt_window, TPT, WINDOW, AdwApplicationWindow)

TptWindow *tpt_window_new (AdwApplication *application);

/* Opens the project at @path; what goes wrong is said in the window. */
void tpt_window_open (TptWindow *self, const char *path);

/* @project (nullable): already open; the window shows it. */
void tpt_window_set_project (TptWindow *self, TptProject *project);

/* (transfer none) (nullable) */
TptProject *tpt_window_get_project (TptWindow *self);

/* Whether a project is open or being opened. */
gboolean tpt_window_is_taken (TptWindow *self);

G_END_DECLS
