/* The findings: which species turned up where and when, for the nights the
 * cameras worked. A species, a period or a brushed stretch of time chosen in
 * one place is what all of them are about. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-filter.h"
#include "tpt-project.h"

G_BEGIN_DECLS

#define TPT_TYPE_FINDINGS_PAGE (tpt_findings_page_get_type ())
G_DECLARE_FINAL_TYPE (TptFindingsPage, tpt_findings_page, TPT, FINDINGS_PAGE, GtkWidget)

GtkWidget *tpt_findings_page_new (void);

/* @project (nullable): takes a reference. Chooses everything anew. */
void tpt_findings_page_set_project (TptFindingsPage *self, TptProject *project);

/* (transfer full): what is chosen: species, and the brushed stretch or the period. */
TptFilter *tpt_findings_page_get_filter (TptFindingsPage *self);

/* Clears the species, the period and the brush. */
void tpt_findings_page_show_everything (TptFindingsPage *self);

/* Whether what is shown is what is chosen: no run is under way or to come. */
gboolean tpt_findings_page_is_settled (TptFindingsPage *self);

G_END_DECLS
