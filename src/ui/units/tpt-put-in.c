#include "config.h"

#include "tpt-put-in.h"

#include <glib/gi18n-lib.h>

#include "tpt-search.h"

struct _TptPutIn {
  GtkWidget parent_instance;

  TptRecord *unit;   /* (owned) */
  GPtrArray *spares; /* (owned) (element-type TptRecord): after those without a name */
  GtkDropDown *choice;
};

G_DEFINE_FINAL_TYPE (TptPutIn, tpt_put_in, GTK_TYPE_WIDGET)

enum {
  SIGNAL_CHANGED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static gboolean
is_kind (TptPutIn *self, const char *kind)
{
  return g_strcmp0 (tpt_record_get_text (self->unit, "kind"), kind) == 0;
}

/* How many come before the units by name: a card can go back in emptied. */
static guint
count_nameless (TptPutIn *self)
{
  return is_kind (self, "card") ? 2 : 1;
}

static void
append_nameless (TptPutIn *self, GtkStringList *list)
{
  if (is_kind (self, "card"))
    {
      gtk_string_list_append (list, _("Another card, without a name"));
      gtk_string_list_append (list, _("The same card, emptied"));
    }
  else
    gtk_string_list_append (list, is_kind (self, "housing") ? _("Another, without a name") : _("Fresh cells"));
}

static void
changed_cb (TptPutIn *self)
{
  g_signal_emit (self, signals[SIGNAL_CHANGED], 0);
}

static void
tpt_put_in_dispose (GObject *object)
{
  TptPutIn *self = TPT_PUT_IN (object);
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);
  g_clear_object (&self->unit);
  g_clear_pointer (&self->spares, g_ptr_array_unref);

  G_OBJECT_CLASS (tpt_put_in_parent_class)->dispose (object);
}

static void
tpt_put_in_class_init (TptPutInClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_put_in_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);

  signals[SIGNAL_CHANGED] =
    g_signal_new ("changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
tpt_put_in_init (TptPutIn *self)
{
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (gtk_widget_get_layout_manager (GTK_WIDGET (self))), 6);
  self->spares = g_ptr_array_new_with_free_func (g_object_unref);
}

TptPutIn *
tpt_put_in_new (TptRecord *unit)
{
  TptPutIn *self = g_object_new (TPT_TYPE_PUT_IN, NULL);
  g_autoptr (GPtrArray) none = g_ptr_array_new ();

  self->unit = g_object_ref (unit);
  gtk_widget_set_parent (gtk_label_new (_("Put in")), GTK_WIDGET (self));
  self->choice = GTK_DROP_DOWN (gtk_drop_down_new (NULL, NULL));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->choice), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Put in"), -1);
  tpt_search_anywhere (self->choice);
  gtk_widget_set_parent (GTK_WIDGET (self->choice), GTK_WIDGET (self));
  tpt_put_in_set_spares (self, none);
  g_signal_connect_swapped (self->choice, "notify::selected", G_CALLBACK (changed_cb), self);
  return self;
}

static char *
name_spare (TptRecord *spare)
{
  const char *label = tpt_record_get_text (spare, "label"), *code = tpt_record_get_code (spare);

  return label != NULL && !g_str_equal (label, code) ? g_strdup_printf ("%s · %s", code, label) : g_strdup (code);
}

void
tpt_put_in_set_spares (TptPutIn *self, GPtrArray *spares)
{
  g_autoptr (GtkStringList) list = gtk_string_list_new (NULL);
  g_autofree char *chosen = g_strdup (tpt_put_in_get (self));
  guint selected = g_strcmp0 (chosen, tpt_record_get_code (self->unit)) == 0 ? 1 : 0;

  append_nameless (self, list);
  g_ptr_array_set_size (self->spares, 0);
  for (guint i = 0; i < spares->len; i++)
    {
      g_autofree char *name = name_spare (spares->pdata[i]);

      g_ptr_array_add (self->spares, g_object_ref (spares->pdata[i]));
      gtk_string_list_append (list, name);
      if (g_strcmp0 (chosen, tpt_record_get_code (spares->pdata[i])) == 0)
        selected = count_nameless (self) + i;
    }
  gtk_drop_down_set_model (self->choice, G_LIST_MODEL (list));
  gtk_drop_down_set_selected (self->choice, selected);
}

const char *
tpt_put_in_get (TptPutIn *self)
{
  guint selected = gtk_drop_down_get_selected (self->choice), first = count_nameless (self);

  if (selected == 0 || selected == GTK_INVALID_LIST_POSITION)
    return NULL;
  if (selected < first)
    return tpt_record_get_code (self->unit);
  return selected - first < self->spares->len ? tpt_record_get_code (self->spares->pdata[selected - first]) : NULL;
}

void
tpt_put_in_step (TptPutIn *self)
{
  guint n = g_list_model_get_n_items (gtk_drop_down_get_model (self->choice));

  gtk_drop_down_set_selected (self->choice, (gtk_drop_down_get_selected (self->choice) + 1) % n);
}
