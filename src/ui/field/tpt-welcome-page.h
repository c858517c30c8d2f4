/* What the window shows while no project is open. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define TPT_TYPE_WELCOME_PAGE (tpt_welcome_page_get_type ())
G_DECLARE_FINAL_TYPE (TptWelcomePage, tpt_welcome_page, TPT, WELCOME_PAGE, GtkWidget)

/* @paths: the latest first; files that are gone are left out. */
void tpt_welcome_page_set_recent (TptWelcomePage *self, const char *const *paths);

G_END_DECLS
