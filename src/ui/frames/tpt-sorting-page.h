/* Sorting: card batches, their frames as small pictures, and naming.
 *
 * The list finds its way again after a change: what was chosen and where the
 * keyboard was stays, as far as it is still there. Decisions are made in the
 * name of a person who is asked for once.
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-frame-query.h"
#include "tpt-project.h"

G_BEGIN_DECLS

#define TPT_TYPE_SORTING_PAGE (tpt_sorting_page_get_type ())
G_DECLARE_FINAL_TYPE (TptSortingPage, tpt_sorting_page, TPT, SORTING_PAGE, GtkWidget)

TptSortingPage *tpt_sorting_page_new (void);

/* @project may be %NULL. */
void tpt_sorting_page_set_project (TptSortingPage *self, TptProject *project);

/* The triggers of a card batch that nobody has said anything of. */
void tpt_sorting_page_show_batch (TptSortingPage *self, const char *batch);

/* What @query asks for, of every card, from the first on; its stations, species, types,
 * range and hours only. */
void tpt_sorting_page_show_query (TptSortingPage *self, const TptFrameQuery *query);

/* Nothing is being looked for or written. */
gboolean tpt_sorting_page_is_settled (TptSortingPage *self);

G_END_DECLS
