"""Every address of Tepal. Fixed ones first; those that begin with a kind of thing come last."""

from django.urls import include, path, re_path

from nursery.site.lists import LISTS
from nursery.site.views import by_post, downstream, lists, lost, more, pipeline, search, stocktake, tags, thing, trace
from nursery.site.views.up import up

list_patterns = [path(f"{one.slug}/", lists.list_page, {"slug": one.slug}, name=f"list-{one.slug}") for one in LISTS]

urlpatterns = [
    path("up/", up, name="up"),
    path("labels/", include("labels.urls")),
    path("t/<str:typed>/", tags.tag_page, name="tag"),
    # As printed in the codes of tags (capitals), and as people type it.
    re_path(r"^[tT]/(?P<typed>[^/]+)/?$", tags.tag_page),
    path("tag/", tags.tag_typed, name="tag-typed"),
    path("tag/lost/", lost.tag_lost, name="tag-lost"),
    path("search/", search.search_page, name="search"),
    path("more/", more.more, name="more"),
    path("crosses/pipeline/", pipeline.pipeline, name="pipeline"),
    path("by-post/", by_post.by_post, name="by-post"),
    path("clones/<int:pk>/downstream/", downstream.downstream, name="downstream"),
    *list_patterns,
    path("", include("breeding.urls")),
    path("", include("nursery.urls")),
    path("", include("breeding.urls_office")),
    path("", include("nursery.site.urls_office")),
    path("plants/<int:pk>/trace/", trace.trace, name="trace"),
    path("stocktakes/<uuid:pk>/", stocktake.stocktake, name="stocktake"),
    path("", include("nursery.site.act_urls")),
    path("<slug:slug>/<int:pk>/", thing.thing_page, name="thing"),
]
