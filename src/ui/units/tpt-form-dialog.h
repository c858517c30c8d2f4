/* A modal window with a form: a title, what is in it, cancel and one action. */
#pragma once

#include <adwaita.h>

#include "tpt-job-edit.h"
#include "tpt-project.h"

G_BEGIN_DECLS

#define TPT_TYPE_FORM_DIALOG (tpt_form_dialog_get_type ())
G_DECLARE_DERIVABLE_TYPE (TptFormDialog, tpt_form_dialog, TPT, FORM_DIALOG, GtkWindow)

/**
 * TptFormDialogClass:
 * @save: the action was asked for; called only while the form is valid
 * @saved: a job of tpt_form_dialog_run() is done, and the dialog about to close;
 *   by default nothing
 * @refused: a job of tpt_form_dialog_run() was refused; by default its reason
 *   is shown at the foot
 */
struct _TptFormDialogClass {
  GtkWindowClass parent_class;

  void (*save) (TptFormDialog *self);
  void (*saved) (TptFormDialog *self, GtkWindow *parent);
  void (*refused) (TptFormDialog *self, TptJobEdit *job, const char *reason);
};

void tpt_form_dialog_set_up (TptFormDialog *self, GtkWindow *parent, TptProject *project, const char *title, const char *action);
TptProject *tpt_form_dialog_get_project (TptFormDialog *self);
GCancellable *tpt_form_dialog_get_cancellable (TptFormDialog *self);

/* Adds a row of the form, with a heading above it when @heading is given. */
void tpt_form_dialog_add (TptFormDialog *self, const char *heading, GtkWidget *widget);

/* (transfer none): a grid of two columns, added like any row. */
GtkWidget *tpt_form_dialog_add_grid (TptFormDialog *self, const char *heading);
/* Puts @widget into the next free place of @grid. */
void tpt_form_dialog_put (GtkWidget *grid, GtkWidget *widget, gboolean wide);

/* A calm box with a caution. */
void tpt_form_dialog_add_caution (TptFormDialog *self, const char *text);

void tpt_form_dialog_set_valid (TptFormDialog *self, gboolean valid);
/* The action is done, and there is nothing to cancel: the button says so. */
void tpt_form_dialog_set_done (TptFormDialog *self, gboolean done);
void tpt_form_dialog_set_busy (TptFormDialog *self, gboolean busy);
/* At the foot; %NULL takes it away. */
void tpt_form_dialog_set_message (TptFormDialog *self, const char *message);
/* What the action will do, above the message; %NULL takes it away. */
void tpt_form_dialog_set_note (TptFormDialog *self, const char *note);

/* Runs @job (taken); when it is done the dialog closes and @toast is said by
 * the parent's window. */
void tpt_form_dialog_run (TptFormDialog *self, TptJobEdit *job, const char *toast);

G_END_DECLS
