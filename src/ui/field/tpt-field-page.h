/* The field page: what is due, the map, and the chosen station.
 *
 * Property "chosen": the code of the chosen station.
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-project.h"

G_BEGIN_DECLS

#define TPT_TYPE_FIELD_PAGE (tpt_field_page_get_type ())
G_DECLARE_FINAL_TYPE (TptFieldPage, tpt_field_page, TPT, FIELD_PAGE, GtkWidget)

GtkWidget *tpt_field_page_new (void);

/* @project may be %NULL. */
void tpt_field_page_set_project (TptFieldPage *self, TptProject *project);

/* @code may be %NULL. */
void tpt_field_page_choose (TptFieldPage *self, const char *code);
const char *tpt_field_page_get_chosen (TptFieldPage *self);

G_END_DECLS
