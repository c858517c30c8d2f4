/* The findings: which species turned up where and when, for the nights the
 * cameras worked. Species, stations, a stretch of time or hours chosen in one pane are what
 * all of them are about; two species or two periods can stand side by side.
 *
 * With the keyboard: F6 goes from pane to pane, F9 gives the pane with the focus all the room,
 * Alt+Left goes back one choice, Escape twice shows everything. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-filter.h"
#include "tpt-findings-choice.h"
#include "tpt-project.h"

G_BEGIN_DECLS

#define TPT_TYPE_FINDINGS_PAGE (tpt_findings_page_get_type ())
G_DECLARE_FINAL_TYPE (TptFindingsPage, tpt_findings_page, TPT, FINDINGS_PAGE, GtkWidget)

GtkWidget *tpt_findings_page_new (void);

/* @project (nullable): takes a reference. Chooses everything anew. */
void tpt_findings_page_set_project (TptFindingsPage *self, TptProject *project);

/* (transfer none): what the panes are about. */
TptFindingsChoice *tpt_findings_page_get_choice (TptFindingsPage *self);

/* (transfer full): the same as a filter, without what stands beside it. */
TptFilter *tpt_findings_page_get_filter (TptFindingsPage *self);

/* Leaves everything out that is chosen. */
void tpt_findings_page_show_everything (TptFindingsPage *self);

/* Whether what is shown is what is chosen: no run is under way or to come. */
gboolean tpt_findings_page_is_settled (TptFindingsPage *self);

G_END_DECLS
