/* What the parts of the window share. */
#pragma once

#include "tpt-field-page.h"
#include "tpt-findings-page.h"
#include "tpt-shelf-page.h"
#include "tpt-sorting-page.h"
#include "tpt-welcome-page.h"
#include "tpt-window.h"

G_BEGIN_DECLS

struct _TptWindow {
  AdwApplicationWindow parent_instance;

  TptProject *project;           /* (owned) (nullable) */
  GCancellable *opening;         /* (owned) (nullable): the opening under way */
  char *opening_path;            /* (owned) (nullable): also of the last that failed */
  GtkFileChooserNative *chooser; /* (owned) (nullable) */
  GtkWidget *led_from;           /* (not owned) (nullable): where the keyboard was when it led to pictures */
  AdwToast *toast;               /* (owned) (nullable): the last, until it is dismissed */
  gint64 toast_at;

  AdwToastOverlay *toasts;
  GtkStack *title;
  AdwViewStack *pages;
  GtkLabel *name;
  GtkLabel *clock; /* shows only where a project's clock stands still */
  GtkWidget *read_only;
  GtkWidget *history;
  GtkWidget *undo;
  GtkWidget *redo;
  GtkMenuButton *menu_button;
  GMenu *recent_menu;
  GtkInfoBar *trouble;
  GtkLabel *trouble_text;
  GtkStack *stack;
  TptWelcomePage *welcome;
  GtkLabel *opening_text;
  AdwStatusPage *fault;
  TptFieldPage *field;
  TptSortingPage *sorting;
  TptFindingsPage *findings;
  TptShelfPage *shelf;
};

/* tpt-window-actions.c */
void tpt_window_add_actions (TptWindow *self);
void tpt_window_update_actions (TptWindow *self);
void tpt_window_say (TptWindow *self, const char *message, const char *button, const char *action);
void tpt_window_complain (TptWindow *self, const char *message);

/* tpt-window-project.c */
void tpt_window_choose_file (TptWindow *self);
void tpt_window_update_recent (TptWindow *self);
void tpt_window_add_drop (TptWindow *self);
void tpt_window_drop_project (TptWindow *self);

G_END_DECLS
